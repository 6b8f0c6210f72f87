namespace ShopFloor.Documents.Pdf;

/// <summary>Where text stands in its room.</summary>
public enum Align
{
    /// <summary>Begins at the left.</summary>
    Left,

    /// <summary>Stands in the middle.</summary>
    Centre,

    /// <summary>Ends at the right.</summary>
    Right,
}

/// <summary>Face, size and colour of text.</summary>
/// <param name="Face">Weight.</param>
/// <param name="SizePt">Size in points.</param>
/// <param name="Ink">Colour.</param>
public readonly record struct TextStyle(TypeFace Face, double SizePt, Ink Ink)
{
    /// <summary>Height of capitals as a share of the size (from the font's OS/2 table: 1490 of 2048 units).</summary>
    public const double CapShare = 0.7275;

    /// <summary>Running text, 9.5 pt.</summary>
    public static TextStyle Body => new(TypeFace.Regular, 9.5, Ink.Black);

    /// <summary>Small print, 7.5 pt, quiet.</summary>
    public static TextStyle Small => new(TypeFace.Regular, 7.5, Ink.Quiet);

    /// <summary>What stands out in running text.</summary>
    public static TextStyle Strong => new(TypeFace.SemiBold, 9.5, Ink.Black);

    /// <summary>Title of a document, 18 pt.</summary>
    public static TextStyle Title => new(TypeFace.Bold, 18, Ink.Black);

    /// <summary>Distance between two baselines in millimetres.</summary>
    public double LineMm => PdfUnit.Millimetres(SizePt * 1.32);

    /// <summary>Height of capital letters in millimetres.</summary>
    public double CapMm => PdfUnit.Millimetres(SizePt * CapShare);

    /// <summary>Width of a one-line text in millimetres.</summary>
    public double WidthMm(string text) => TypeFaces.WidthMm(TypeFaces.Drawable(text), Face, SizePt);

    /// <summary>The same style at another size.</summary>
    public TextStyle At(double sizePt) => this with { SizePt = sizePt };

    /// <summary>
    /// The text broken into lines that fit the width: at line ends of its own, at spaces, and inside a word only where the word alone is wider;
    /// there after its hyphens and slashes first, and between two letters only where what stands between those is wider still.
    /// </summary>
    public IReadOnlyList<string> Wrap(string text, double widthMm)
    {
        var lines = new List<string>();
        foreach (var paragraph in text.ReplaceLineEndings("\n").Split('\n'))
        {
            var line = "";
            foreach (var word in TypeFaces.Drawable(paragraph.Replace('\t', ' ')).Split(' '))
            {
                var longer = line.Length == 0 ? word : $"{line} {word}";
                if (Fits(longer, widthMm))
                {
                    line = longer;
                    continue;
                }
                if (line.Length > 0)
                    lines.Add(line);
                line = BreakAtMarks(word, widthMm, lines);
            }
            lines.Add(line);
        }
        return lines;
    }

    /// <summary>The largest size between <paramref name="smallestPt"/> and this one at which the text fits in one line.</summary>
    public TextStyle Fitted(string text, double widthMm, double smallestPt)
    {
        var width = WidthMm(text);
        return width <= widthMm ? this : At(Math.Max(Math.Min(smallestPt, SizePt), SizePt * widthMm / width * 0.999));
    }

    /// <summary>The text cut to the width, ending in … where something is left out.</summary>
    public string Cut(string text, double widthMm)
    {
        var drawable = TypeFaces.Drawable(text);
        if (Fits(drawable, widthMm))
            return drawable;
        var keep = drawable.EnumerateRunes().ToList();
        while (keep.Count > 0 && !Fits(string.Concat(keep) + "…", widthMm))
            keep.RemoveAt(keep.Count - 1);
        return string.Concat(keep).TrimEnd() + "…";
    }

    private bool Fits(string drawable, double widthMm) => TypeFaces.WidthMm(drawable, Face, SizePt) <= widthMm + 1e-6;

    private string BreakAtMarks(string word, double widthMm, List<string> lines)
    {
        var line = "";
        foreach (var part in Parts(word))
        {
            if (Fits(line + part, widthMm))
            {
                line += part;
                continue;
            }
            if (line.Length > 0)
                lines.Add(line);
            line = BreakWord(part, widthMm, lines);
        }
        return line;
    }

    private static IEnumerable<string> Parts(string word)
    {
        var from = 0;
        for (var i = 1; i < word.Length - 1; i++)
        {
            if (word[i] is not ('-' or '/') || word[i + 1] is '-' or '/')
                continue;
            yield return word[from..(i + 1)];
            from = i + 1;
        }
        yield return word[from..];
    }

    private string BreakWord(string word, double widthMm, List<string> lines)
    {
        var part = "";
        foreach (var rune in word.EnumerateRunes())
        {
            if (part.Length > 0 && !Fits(part + rune, widthMm))
            {
                lines.Add(part);
                part = "";
            }
            part += rune;
        }
        return part;
    }
}
