using ShopFloor.Documents.Sheets;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Pictures;

/// <summary>The texts of a line as they fit its face: read once, looked at one by one.</summary>
/// <param name="Texts">One for each piece, in the order of the list.</param>
/// <param name="Small">Those that are hard to read or do not fit.</param>
/// <param name="Worst">Place of the one that fits worst: the smallest letters, of those the longest drawn, of those the first.</param>
public sealed record TextFit(IReadOnlyList<string> Texts, IReadOnlyList<SmallText> Small, int Worst)
{
    /// <summary>No text.</summary>
    public static TextFit None { get; } = new([], [], 0);

    /// <summary>Several texts, which can be looked at one by one.</summary>
    public bool IsList => Texts.Count > 1;

    /// <summary>How the texts of a line fit.</summary>
    public static TextFit Of(LineEntry line, LengthUnit unit, PrintRules rules)
    {
        var texts = EntryReading.Texts(line);
        if (texts.Count == 0)
            return None;
        return new TextFit(texts, PrintDoubts.Of(line, unit, rules).Small, texts.Count > 1 ? WorstOf(texts, line, unit, rules) : 0);
    }

    /// <summary>The mark of a text; null: it is fine.</summary>
    public SmallText? MarkOf(string text) => Small.FirstOrDefault(s => s.Text == text);

    private static int WorstOf(IReadOnlyList<string> texts, LineEntry line, LengthUnit unit, PrintRules rules)
    {
        if (EntryReading.FaceMillimetres(line, unit) is not { } face)
            return 0;
        var outline = SeenText.OutlineOf(line, unit, face.Wide, face.High);
        return texts
            .Select((text, at) => (At: at, FaceText.On(outline, text, line.Picture is not null, light: false, rules.MarginMm).Style, text))
            .OrderBy(t => t.Style.SizePt)
            .ThenByDescending(t => t.Style.WidthMm(t.text))
            .ThenBy(t => t.At)
            .First()
            .At;
    }
}
