namespace ShopFloor.Web.Security;

/// <summary>Keeps a "go on to" address on this site.</summary>
public static class LocalAddress
{
    /// <summary>The address as a path below the base, or "" (home) when it leads elsewhere.</summary>
    public static string Of(string? to) =>
        to is ['/', not ('/' or '\\'), ..] && !to.Any(char.IsControl) && !to.Contains('\\', StringComparison.Ordinal) ? to[1..] : "";
}
