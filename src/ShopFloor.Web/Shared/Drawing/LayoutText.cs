using System.Net;

namespace ShopFloor.Web.Shared.Drawing;

/// <summary>
/// The texts of a lay-out drawing as SVG. They are made here because Razor keeps the tag <c>text</c> for itself;
/// whatever people wrote is encoded.
/// </summary>
public static class LayoutText
{
    /// <summary>Each code as large as its place allows, upright in tall narrow places.</summary>
    public static IEnumerable<string> Codes(IReadOnlyList<LayoutPlace> places)
    {
        foreach (var place in places)
        {
            var upright = place.DepthMm > place.WidthMm * 1.6;
            var (along, across) = upright ? (place.DepthMm, place.WidthMm) : (place.WidthMm, place.DepthMm);
            var longest = Math.Max(place.Code.Length, place.Note?.Length ?? 0);
            var size = Math.Min(along * 0.86 / (0.66 * Math.Max(3, longest)), across * (place.Note is null ? 0.5 : 0.36));
            var (x, y) = (place.XMm + place.WidthMm / 2, place.YMm + place.DepthMm / 2);
            var lift = place.Note is null ? 0 : size * 0.6;
            yield return Text(place.Code, x, y, size, upright, -lift);
            if (place.Note is not null)
                yield return Text(place.Note, x, y, size * 0.75, upright, lift);
        }
    }

    /// <summary>The length of the scale bar, beside its end.</summary>
    public static string Scale(double lengthMm, double barY, double unit) =>
        Text($"{lengthMm.ToString("0", CultureInfo.InvariantCulture)} mm", lengthMm + unit * 28, barY, unit * 10, upright: false, 0);

    /// <summary>Where the one who loads it stands: below the drawing, so the arrow points down.</summary>
    public static string Front(string word, double widthMm, double barY, double unit) =>
        Text($"\u2193 {word}", widthMm - unit * 30, barY, unit * 10, upright: false, 0);

    private static string Text(string text, double x, double y, double size, bool upright, double shift)
    {
        var turn = upright ? $" transform=\"rotate(-90 {N(x)} {N(y)})\"" : "";
        return $"<text x=\"{N(x)}\" y=\"{N(y + shift)}\" font-size=\"{N(size)}\"{turn}>{WebUtility.HtmlEncode(text)}</text>";
    }

    private static string N(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
