namespace ShopFloor.Web.Counter.Start;

/// <summary>The languages a customer can choose, in their own words.</summary>
public static class CounterLanguages
{
    /// <summary>One for each language the program speaks; several kinds of one language count once.</summary>
    public static IReadOnlyList<(string Culture, string Name)> All { get; } =
    [.. CounterCulture.All.Select(CultureInfo.GetCultureInfo).DistinctBy(c => c.TwoLetterISOLanguageName).Select(c => (c.Name, Name(c)))];

    private static string Name(CultureInfo culture)
    {
        var name = culture.Parent.NativeName;
        return char.ToUpper(name[0], culture) + name[1..];
    }
}
