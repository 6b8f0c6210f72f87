namespace ShopFloor.Web.Hosting;

/// <summary>
/// The cultures that screens, papers and mails speak: the workshop's own, and one of each further language. What a browser asks for chooses
/// the language only; days are written as the workshop's culture writes them, and every language tells the time by the workshop's clock.
/// </summary>
public sealed class ShopCultures
{
    public ShopCultures(string workshop)
    {
        Own = CultureInfo.GetCultureInfo(workshop);
        IEnumerable<string> further = [.. Languages.All, .. Languages.OfCustomers];
        All =
        [
            Own,
            .. further.Select(CultureInfo.GetCultureInfo).DistinctBy(Language).Where(c => Language(c) != Language(Own)).Select(WithClock),
        ];
    }

    /// <summary>The workshop's own culture.</summary>
    public CultureInfo Own { get; }

    /// <summary>One for each language, the workshop's first.</summary>
    public IReadOnlyList<CultureInfo> All { get; }

    /// <summary>The culture of a language that somebody asks for, such as <c>de</c> or <c>en-US</c>; null when it is not spoken.</summary>
    public CultureInfo? For(string asked) =>
        All.FirstOrDefault(c => string.Equals(Language(c), asked.Split('-')[0], StringComparison.OrdinalIgnoreCase));

    private static string Language(CultureInfo culture) => culture.TwoLetterISOLanguageName;

    private CultureInfo WithClock(CultureInfo culture)
    {
        var kept = new CultureInfo(culture.Name, useUserOverride: false);
        kept.DateTimeFormat.ShortTimePattern = Own.DateTimeFormat.ShortTimePattern;
        kept.DateTimeFormat.LongTimePattern = Own.DateTimeFormat.LongTimePattern;
        return CultureInfo.ReadOnly(kept);
    }
}
