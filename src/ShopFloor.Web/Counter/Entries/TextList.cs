using ShopFloor.Documents.Pdf;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>A row of a pasted or uploaded list.</summary>
/// <param name="Row">Counted from 1 as in the list.</param>
/// <param name="Text">What goes on the piece; cleaned of blanks at its ends.</param>
/// <param name="Fault">English key of what is wrong with it, or null.</param>
public sealed record ListRow(int Row, string Text, string? Fault);

/// <summary>
/// A list with one text for each piece: a line is a piece. Where all lines have the same number of columns it is a table, of which the first
/// column counts; a mark between columns that only some lines have belongs to their texts. Quotes around a whole cell are taken away, others
/// stay. Empty lines are left out. Bad rows are told with their number, good rows stay.
/// </summary>
public static class TextList
{
    public const int MostRows = 1000;
    public const int MostText = 200;

    /// <summary>The longest list: as many rows as there may be, each as long as it may be.</summary>
    public const int MostLetters = MostRows * (MostText + 1);

    // What the first column of such a list is usually called (common practice, no source).
    private static readonly HashSet<string> Headings = new(StringComparer.OrdinalIgnoreCase)
    {
        "name",
        "names",
        "first name",
        "firstname",
        "last name",
        "lastname",
        "surname",
        "full name",
        "text",
        "texts",
        "inscription",
        "engraving",
        "wording",
        "label",
        "title",
        "namen",
        "vorname",
        "vornamen",
        "nachname",
        "familienname",
        "texte",
        "aufschrift",
        "beschriftung",
        "gravur",
        "inschrift",
        "wunschtext",
        "titel",
        "spruch",
    };

    /// <summary>The rows that hold something, of the list of a line.</summary>
    public static IReadOnlyList<ListRow> Read(LineEntry line) => Read(line.List, line.LeavesHeading);

    /// <summary>Whether it is a table whose first cell is what a column is usually called.</summary>
    public static bool IsHeading(string? list) => Columns(list) > 1 && Headings.Contains(First(list));

    /// <summary>Whether it is worth asking if the first row is a heading: it is a table, or begins with such a word.</summary>
    public static bool AsksHeading(string? list) => Lines(list).Count > 1 && (Columns(list) > 1 || Headings.Contains(First(list)));

    /// <summary>The first row that holds something, as it stands there; empty: there is none.</summary>
    public static string FirstRow(string? list) => Lines(list) is [var (_, text), ..] ? text.Trim() : "";

    private static string First(string? list)
    {
        var lines = Lines(list);
        return lines.Count == 0 ? "" : Cells(lines[0].Text, Mark(lines))[0];
    }

    /// <summary>The rows that hold something.</summary>
    /// <param name="list">As pasted.</param>
    /// <param name="leavesHeading">Without the first row, which is a heading.</param>
    public static IReadOnlyList<ListRow> Read(string? list, bool leavesHeading = false)
    {
        var lines = Lines(list);
        var mark = Mark(lines);
        var rows = lines.Skip(leavesHeading ? 1 : 0).Select(l => Row(l.Row, Cells(l.Text, mark)[0])).Where(r => r.Text.Length > 0);
        return [.. rows.Select((r, n) => n < MostRows ? r : r with { Fault = "There are more than 1,000 rows." })];
    }

    /// <summary>How many columns its lines have; of more than one only the first counts.</summary>
    public static int Columns(string? list)
    {
        var lines = Lines(list);
        return lines.Count == 0 ? 0 : Cells(lines[0].Text, Mark(lines)).Count;
    }

    /// <summary>A list that reads as these texts.</summary>
    public static string Write(IReadOnlyList<string> texts)
    {
        var plain = string.Join('\n', texts);
        return Read(plain).Select(r => r.Text).SequenceEqual(texts, StringComparer.Ordinal)
            ? plain
            : string.Join('\n', texts.Select(t => $"\"{t.Replace("\"", "\"\"", StringComparison.Ordinal)}\""));
    }

    /// <summary>The texts of the good rows, in order.</summary>
    public static IReadOnlyList<string> Good(IReadOnlyList<ListRow> rows) => [.. rows.Where(r => r.Fault is null).Select(r => r.Text)];

    private static ListRow Row(int number, string text) => new(number, text, Fault(text));

    private static string? Fault(string text) =>
        text.Length > MostText ? "This text is longer than 200 characters."
        : text.Any(c => char.IsControl(c) || c == '\uFFFD') || TypeFaces.Missing(text).Count > 0
            ? "This text holds a sign that cannot be printed."
        : null;

    private static List<(int Row, string Text)> Lines(string? list) =>
        [
            .. (list ?? "")
                .TrimStart('\uFEFF')
                .ReplaceLineEndings("\n")
                .Split('\n')
                .Select((text, i) => (i + 1, text))
                .Where(l => l.text.Trim().Length > 0),
        ];

    /// <summary>What stands between columns: in every line, and as often; null where it is no table. A lone line with a semicolon is a text.</summary>
    private static char? Mark(List<(int Row, string Text)> lines)
    {
        foreach (var mark in new[] { '\t', ';' })
        {
            var counts = lines.Select(l => Cells(l.Text, mark).Count).Distinct().Take(2).ToList();
            if (counts is [> 1] && (mark == '\t' || lines.Count > 1))
                return mark;
        }
        return null;
    }

    private static List<string> Cells(string line, char? mark)
    {
        List<string> cells = [];
        for (var rest = line; ; )
        {
            var (text, at) = Quoted(rest, mark) ?? Plain(rest, mark);
            cells.Add(text.Trim());
            if (at == rest.Length)
                return cells;
            rest = rest[(at + 1)..];
        }
    }

    private static (string Text, int End) Plain(string rest, char? mark)
    {
        var end = mark is { } m ? rest.IndexOf(m, StringComparison.Ordinal) : -1;
        return end < 0 ? (rest, rest.Length) : (rest[..end], end);
    }

    /// <summary>What stands in quotes, and where the cell ends; null where no quotes enclose the whole cell.</summary>
    private static (string Text, int End)? Quoted(string rest, char? mark)
    {
        var start = rest.Length - rest.TrimStart().Length;
        if (start == rest.Length || rest[start] != '"')
            return null;
        var close = start + 1;
        while (close < rest.Length && (rest[close] != '"' || (close + 1 < rest.Length && rest[close + 1] == '"')))
            close += rest[close] == '"' ? 2 : 1;
        if (close >= rest.Length)
            return null;
        var after = close + 1;
        while (after < rest.Length && rest[after] != mark && char.IsWhiteSpace(rest[after]))
            after++;
        return after == rest.Length || rest[after] == mark
            ? (rest[(start + 1)..close].Replace("\"\"", "\"", StringComparison.Ordinal), after)
            : null;
    }
}
