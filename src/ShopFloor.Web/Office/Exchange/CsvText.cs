using System.Text;

namespace ShopFloor.Web.Office.Exchange;

/// <summary>
/// Writes CSV (RFC 4180) that a spreadsheet opens without running anything: a text that would begin a formula gets an apostrophe before it,
/// which <see cref="Plain"/> takes away again. Numbers and days are written as they are.
/// </summary>
public static class CsvText
{
    /// <summary>The file's text: heading line, then rows; comma between, CR LF after each.</summary>
    public static string Write(IReadOnlyList<string> heads, IEnumerable<IReadOnlyList<object?>> rows)
    {
        var text = new StringBuilder();
        Line(text, heads.Select(Quoted));
        foreach (var row in rows)
            Line(text, row.Select(Cell));
        return text.ToString();
    }

    /// <summary>The same, row by row.</summary>
    public static async Task WriteAsync(TextWriter to, IReadOnlyList<string> heads, IAsyncEnumerable<IReadOnlyList<object?>> rows)
    {
        var line = new StringBuilder();
        Line(line, heads.Select(Quoted));
        await to.WriteAsync(line);
        await foreach (var row in rows)
        {
            Line(line.Clear(), row.Select(Cell));
            await to.WriteAsync(line);
        }
    }

    /// <summary>A text that no spreadsheet takes for a formula.</summary>
    public static string Safe(string text) => LooksLikeFormula(text) ? "'" + text : text;

    /// <summary>The text that <see cref="Safe"/> was given.</summary>
    public static string Plain(string cell) => cell.StartsWith('\'') && LooksLikeFormula(cell) ? cell[1..] : cell;

    /// <summary>A number as a file has it; never with three decimals, which can mean thousands.</summary>
    public static string Amount(decimal amount)
    {
        var text = amount.ToString(CultureInfo.InvariantCulture);
        return text.Length > 4 && text[^4] == '.' ? text + "0" : text;
    }

    private static string Cell(object? value) =>
        value switch
        {
            null => "",
            string text => Quoted(Safe(text)),
            bool yes => yes ? "yes" : "no",
            DateTimeOffset at => at.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ss.fffffffZ", CultureInfo.InvariantCulture),
            DateOnly day => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
            IFormattable number => Quoted(number.ToString(null, CultureInfo.InvariantCulture)),
            _ => Quoted(Safe(value.ToString() ?? "")),
        };

    // Apostrophes before the sign count too, or taking one away would make a formula of a text.
    private static bool LooksLikeFormula(string text) => text.TrimStart('\'') is [('=' or '+' or '-' or '@' or '\t' or '\r'), ..];

    private static string Quoted(string text) =>
        text.IndexOfAny(['"', ',', ';', '\n', '\r', '\t']) >= 0 ? $"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : text;

    private static void Line(StringBuilder text, IEnumerable<string> cells) => text.AppendJoin(',', cells).Append("\r\n");
}
