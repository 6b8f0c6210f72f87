namespace ShopFloor.Web.Hosting;

/// <summary>The languages the program speaks. A language is listed here once all of its texts are there.</summary>
public static class Languages
{
    /// <summary>Complete everywhere: a workshop can choose one as its own.</summary>
    public static IReadOnlyList<string> All { get; } = ["en-GB", "en-US"];

    /// <summary>Complete on the pages of customers, the Bench and the Wall.</summary>
    public static IReadOnlyList<string> OfCustomers { get; } = ["de-DE"];
}
