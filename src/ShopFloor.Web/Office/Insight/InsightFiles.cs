using System.Text;
using ShopFloor.Web.Security;
using SpreadCheetah;

namespace ShopFloor.Web.Office.Insight;

/// <summary>The figures of a month as CSV and as XLSX.</summary>
public static class InsightFiles
{
    public static void MapInsight(this IEndpointRouteBuilder app)
    {
        var files = app.MapGroup("/office/insight").RequireAuthorization(Policies.Office);
        files.MapGet(
            "/{month}.csv",
            async (string month, InsightView view, CancellationToken cancel) =>
                Results.File(
                    Csv(InsightTables.Of(await view.LoadAsync(month, cancel))),
                    "text/csv; charset=utf-8",
                    $"insight-{Safe(month)}.csv"
                )
        );
        files.MapGet(
            "/{month}.xlsx",
            async (string month, InsightView view, CancellationToken cancel) =>
                Results.File(
                    await XlsxAsync(InsightTables.Of(await view.LoadAsync(month, cancel)), cancel),
                    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
                    $"insight-{Safe(month)}.xlsx"
                )
        );
    }

    /// <summary>
    /// RFC 4180 with a byte-order mark, one table after the other, each row led by its table's name. A text that a spreadsheet would take
    /// for a formula gets an apostrophe before it.
    /// </summary>
    public static byte[] Csv(IReadOnlyList<OutTable> tables)
    {
        var text = new StringBuilder();
        foreach (var table in tables)
        {
            Line(text, ["table", .. table.Head]);
            foreach (var row in table.Rows)
                Line(text, [table.Name, .. row]);
        }
        return [.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(text.ToString())];
    }

    private static void Line(StringBuilder text, IReadOnlyList<object?> cells) =>
        text.AppendJoin(
                ',',
                cells.Select(c => c is string word ? Quoted(Harmless(word)) : Convert.ToString(c, CultureInfo.InvariantCulture))
            )
            .Append("\r\n");

    // A number is written as one: only a text can be taken for a formula.
    private static string Harmless(string word) =>
        word.Length > 0 && "=+-@\t\r".Contains(word[0], StringComparison.Ordinal) ? $"'{word}" : word;

    private static string Quoted(string word) =>
        word.AsSpan().IndexOfAny(",\"\r\n") < 0 ? word : $"\"{word.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";

    /// <summary>One sheet a table; texts are text cells, never formulas.</summary>
    public static async Task<byte[]> XlsxAsync(IReadOnlyList<OutTable> tables, CancellationToken cancel)
    {
        using var stream = new MemoryStream();
        await using (var book = await Spreadsheet.CreateNewAsync(stream, cancellationToken: cancel))
        {
            foreach (var table in tables)
            {
                await book.StartWorksheetAsync(table.Name, token: cancel);
                await book.AddRowAsync([.. table.Head.Select(h => new DataCell(h))], cancel);
                foreach (var row in table.Rows)
                    await book.AddRowAsync([.. row.Select(Cell)], cancel);
            }
            await book.FinishAsync(cancel);
        }
        return stream.ToArray();
    }

    private static DataCell Cell(object? cell) =>
        cell switch
        {
            null => new DataCell(""),
            int n => new DataCell(n),
            decimal n => new DataCell(n),
            _ => new DataCell(cell.ToString()),
        };

    private static string Safe(string month) => Settings.Period.Write(Settings.Period.ReadMonth(month, new DateOnly(2000, 1, 1)));
}
