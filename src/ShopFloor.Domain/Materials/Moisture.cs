namespace ShopFloor.Domain.Materials;

/// <summary>
/// How a material that holds moisture is rid of it. Stone and slate are baked; wood must not be: it is pressed bare for 5 to 10 s before the
/// print goes on. Both common practice, no source.
/// </summary>
public static class Moisture
{
    /// <summary>True when it is dried in the oven before it is coated.</summary>
    public static bool IsBakedOut(MaterialSheet material) => material.DryFirst && material.Class != MaterialClass.Wood;

    /// <summary>True when it is pressed bare before the print goes on.</summary>
    public static bool IsPressedOut(MaterialSheet material) => material.DryFirst && material.Class == MaterialClass.Wood;

    /// <summary>What is said of it beside a verdict; empty when it holds no moisture.</summary>
    public static IReadOnlyList<string> Notes(MaterialSheet material) =>
        IsBakedOut(material) ? ["Dry it before coating: moisture lifts the coat."]
        : IsPressedOut(material) ? ["Press it bare for 5 to 10 s before the print goes on: moisture lifts the coat."]
        : [];
}
