using ShopFloor.Documents.Pdf;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>A row of a pasted or uploaded list.</summary>
/// <param name="Row">Counted from 1 as in the list.</param>
/// <param name="Text">What goes on the piece; cleaned of blanks at its ends.</param>
/// <param name="Fault">English key of what is wrong with it, or null.</param>
public sealed record ListRow(int Row, string Text, string? Fault);

/// <summary>
/// A list with one text for each piece: a line is a piece; of a table the first column counts. Empty lines are left out. Bad rows are told
/// with their number, good rows stay.
/// </summary>
public static class TextList
{
    public const int MostRows = 1000;
    public const int MostText = 200;

    /// <summary>The rows that hold something.</summary>
    public static IReadOnlyList<ListRow> Read(string? list)
    {
        var rows = (list ?? "")
            .ReplaceLineEndings("\n")
            .Split('\n')
            .Select((text, i) => Row(i + 1, FirstColumn(text)))
            .Where(r => r.Text.Length > 0);
        return [.. rows.Select((r, n) => n < MostRows ? r : r with { Fault = "There are more than 1,000 rows." })];
    }

    /// <summary>The texts of the good rows, in order.</summary>
    public static IReadOnlyList<string> Good(IReadOnlyList<ListRow> rows) => [.. rows.Where(r => r.Fault is null).Select(r => r.Text)];

    private static ListRow Row(int number, string text) => new(number, text, Fault(text));

    private static string? Fault(string text) =>
        text.Length > MostText ? "This text is longer than 200 characters."
        : text.Any(c => char.IsControl(c) || c == '\uFFFD') || TypeFaces.Missing(text).Count > 0
            ? "This text holds a sign that cannot be printed."
        : null;

    private static string FirstColumn(string line)
    {
        var trimmed = line.Trim().TrimStart('\uFEFF');
        if (trimmed.StartsWith('"') && trimmed.IndexOf('"', 1) is > 0 and var end)
            return trimmed[1..end].Trim();
        return trimmed.Split('\t', ';')[0].Trim();
    }
}
