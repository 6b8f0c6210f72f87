using ShopFloor.Domain.Heat;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>Fields that several heat calculators share.</summary>
internal static class HeatFields
{
    /// <summary>What the piece is likened to.</summary>
    public static CalculatorChoice Shape { get; } =
        new(
            "shape",
            "Shape",
            [
                ("both", "Plate, both faces free"),
                ("one", "Plate that lies on something"),
                ("cylinder", "Solid cylinder"),
                ("ball", "Lump, like a ball"),
            ]
        );

    /// <summary>The body from material, shape and size in mm.</summary>
    public static HeatBody Body(CalculatorValues v, string material, string sizeMm)
    {
        var thermal = v.Material(material).Thermal!;
        return v.Choice("shape") switch
        {
            "one" => HeatBody.PlateOneFace(thermal, v[sizeMm]),
            "cylinder" => HeatBody.SolidCylinder(thermal, v[sizeMm]),
            "ball" => HeatBody.Ball(thermal, v[sizeMm]),
            _ => HeatBody.PlateBothFaces(thermal, v[sizeMm]),
        };
    }
}
