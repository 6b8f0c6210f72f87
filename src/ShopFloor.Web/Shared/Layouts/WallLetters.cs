namespace ShopFloor.Web.Shared.Layouts;

/// <summary>
/// How large letters on the big screen must be. ISO 9241-303 asks for capitals of at least 16 minutes of arc and prefers 20 to 22,
/// seen from the farthest place; cited through public articles that quote it. A screen is taken as 16:9 and a capital
/// as 0.7 of the letter size (common practice, no source).
/// </summary>
/// <param name="CapitalMm">Height of capitals on the screen.</param>
/// <param name="ShareOfWidth">Letter size as a share of the screen's width, so that the screen's resolution does not matter.</param>
public readonly record struct WallLetters(double CapitalMm, double ShareOfWidth)
{
    private const double WantedArcMinutes = 21;
    private const double CapitalShare = 0.7;

    /// <summary>The letters for a screen and its farthest reader; sizes outside 10–200 inch and 0.5–20 m are brought to these ends.</summary>
    public static WallLetters For(double inch, double metres)
    {
        var widthMm = Math.Clamp(inch, 10, 200) * 25.4 * 16 / Math.Sqrt(16 * 16 + 9 * 9);
        var distanceMm = Math.Clamp(metres, 0.5, 20) * 1000;
        var capital = 2 * distanceMm * Math.Tan(WantedArcMinutes / 60 * Math.PI / 180 / 2);
        return new WallLetters(capital, capital / CapitalShare / widthMm);
    }

    /// <summary>The size as a CSS length.</summary>
    public string FontShare => (ShareOfWidth * 100).ToString("0.###", CultureInfo.InvariantCulture) + "vw";
}
