using System.Net;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>One layer of the stack in the press, from above; lengths in the drawing's own units.</summary>
/// <param name="Word">What it is.</param>
/// <param name="Y">Upper edge.</param>
/// <param name="Height">Thickness as drawn, not to scale.</param>
/// <param name="Dash">Dashes for paper; null: a full line.</param>
/// <param name="Solid">True for the coat: drawn black.</param>
public sealed record Layer(string Word, int Y, int Height, string? Dash = null, bool Solid = false)
{
    public string Middle => (Y + Height / 2.0).ToString(CultureInfo.InvariantCulture);
}

/// <summary>The layers between the platens, from the mirror rule and the lay-up alone.</summary>
public static class LayUpLines
{
    public const int Height = 200;

    // A letter of 15 is about 8 wide in the widest of the fonts that a device may have.
    private const double LetterWidth = 8.4;
    private const int WordsFrom = 188;
    private const int Least = 360;

    /// <summary>The layers from the upper platen down.</summary>
    public static IReadOnlyList<Layer> Of(LayUp layUp)
    {
        (string Word, int Height, string? Dash, bool Solid)[] stack = layUp switch
        {
            { Wraps: true } =>
            [
                ("heating mat, all round", 24, null, false),
                ("fresh protective sheet", 6, "3 3", false),
                ("print, picture inwards", 8, "9 3", false),
                ("coated mantle", 6, null, true),
                ("piece", 34, null, false),
            ],
            { PrintBelow: true } =>
            [
                ("upper platen, hot", 24, null, false),
                ("fresh protective sheet", 6, "3 3", false),
                ("piece, seen face up", 34, null, false),
                ("coated face, down", 6, null, true),
                ("print, picture up", 8, "9 3", false),
                ("fresh protective sheet", 6, "3 3", false),
                ("lower platen", 24, null, false),
            ],
            _ =>
            [
                ("upper platen, hot", 24, null, false),
                ("fresh protective sheet", 6, "3 3", false),
                ("print, picture down", 8, "9 3", false),
                ("coated face, up", 6, null, true),
                ("piece", 34, null, false),
                ("lower platen", 24, null, false),
            ],
        };
        var y = 16;
        var layers = new List<Layer>();
        foreach (var (word, height, dash, solid) in stack)
        {
            layers.Add(new Layer(word, y, height, dash, solid));
            // Thin layers stand apart, so that their words do.
            y += Math.Max(height, 18) + 4;
        }
        return layers;
    }

    /// <summary>How wide the drawing is, so that the longest of its words stands in it whole.</summary>
    public static int Width(IEnumerable<string> words) =>
        Math.Max(Least, WordsFrom + (int)Math.Ceiling(words.Max(w => w.Length) * LetterWidth));

    /// <summary>The stack in words, for who cannot see it.</summary>
    public static string InWords(LayUp layUp) => string.Join(", then ", Of(layUp).Select(l => l.Word));

    /// <summary>A word beside its layer, as SVG; Razor keeps the tag for itself.</summary>
    public static string Text(string word, string y) => $"<text x=\"{WordsFrom}\" y=\"{y}\">{WebUtility.HtmlEncode(word)}</text>";
}
