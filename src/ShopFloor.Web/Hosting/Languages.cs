namespace ShopFloor.Web.Hosting;

/// <summary>The languages the program speaks completely. A language is listed here once all of its texts are there.</summary>
public static class Languages
{
    public static IReadOnlyList<string> All { get; } = ["en-GB", "en-US"];
}
