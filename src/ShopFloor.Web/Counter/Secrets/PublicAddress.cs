namespace ShopFloor.Web.Counter.Secrets;

/// <summary>The address under which people outside reach the program.</summary>
public static class PublicAddress
{
    /// <summary>As the owner set it, or as the page was asked for; ends with a slash.</summary>
    public static string Of(string set, string asked) =>
        set.Length == 0 ? asked
        : set.EndsWith('/') ? set
        : set + "/";
}
