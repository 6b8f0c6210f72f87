using CsvHelper;
using ShopFloor.Domain;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>One line of a bank's list.</summary>
/// <param name="Row">Its line in the file.</param>
public sealed record BankLine(int Row, DateOnly Day, decimal Amount, string Text);

/// <summary>A line that could not be read.</summary>
public sealed record BadLine(int Row, string Reason);

/// <summary>What a bank's file holds.</summary>
public sealed record BankFile(IReadOnlyList<BankLine> Lines, IReadOnlyList<BadLine> Bad);

/// <summary>
/// Reads a bank's list as CSV: a heading line with a day, an amount and any number of texts, in any order; comma, semicolon or tab between.
/// Bad rows are told with their line and reason; the good ones are kept.
/// </summary>
public static class BankLines
{
    /// <summary>Most lines of one file.</summary>
    public const int Most = 20_000;

    private static readonly string[] DayNames = ["date", "day", "booking date", "value date", "posted"];
    private static readonly string[] AmountNames = ["amount", "sum", "value", "credit"];
    private static readonly string[] DayForms = ["yyyy-MM-dd", "dd.MM.yyyy", "d.M.yyyy", "dd/MM/yyyy", "dd.MM.yy"];

    private static readonly CsvReaderOptions Options = new()
    {
        HasHeader = false,
        TrackLineNumbers = true,
        FieldCountMismatch = CsvFieldCountHandling.Allow,
        MalformedData = CsvMalformedDataHandling.Recover,
    };

    /// <summary>Reads the text of a file.</summary>
    /// <returns>Lines and bad lines, or the refusal that it is no such list.</returns>
    public static Result<BankFile> Read(string text)
    {
        var first = text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n')[0];
        var delimiter = new[] { ";", ",", "\t" }.MaxBy(d => first.Split(d).Length)!;
        using var csv = CsvReader.FromText(text.TrimStart('\uFEFF'), Options with { Separator = delimiter[0] });
        if (!csv.Read())
            return new Refusal("bank-empty", "The file is empty.", "File");
        var heads = Cells(csv).Select(h => h.Trim().ToLowerInvariant()).ToList();
        var (day, amount) = (
            heads.FindIndex(h => DayNames.Contains(h, StringComparer.Ordinal)),
            heads.FindIndex(h => AmountNames.Contains(h, StringComparer.Ordinal))
        );
        if (day < 0 || amount < 0)
            return new Refusal(
                "bank-heading",
                $"The first line must name the columns, among them date and amount. It says: {first[..Math.Min(first.Length, 100)]}",
                "File"
            );
        return ReadRows(csv, day, amount);
    }

    private static string[] Cells(CsvReader csv) => [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetString)];

    private static Result<BankFile> ReadRows(CsvReader csv, int day, int amount)
    {
        List<BankLine> lines = [];
        List<BadLine> bad = [];
        while (csv.Read())
        {
            var cells = Cells(csv);
            if (Array.TrueForAll(cells, string.IsNullOrWhiteSpace))
                continue;
            if (lines.Count + bad.Count == Most)
                return new Refusal("bank-long", $"The file has more than {Most} lines: split it.", "File");
            var read = ReadRow((int)csv.LineNumber, cells, day, amount);
            if (read.IsOk)
                lines.Add(read.Value);
            else
                bad.Add(new BadLine((int)csv.LineNumber, read.Refusals[0].Text));
        }
        return new BankFile(lines, bad);
    }

    private static Result<BankLine> ReadRow(int row, string[] cells, int day, int amount)
    {
        if (cells.Length <= Math.Max(day, amount))
            return new Refusal("row-short", $"The line has only {cells.Length} columns.");
        if (!DateOnly.TryParseExact(cells[day].Trim(), DayForms, CultureInfo.InvariantCulture, DateTimeStyles.None, out var on))
            return new Refusal("row-day", $"“{Short(cells[day])}” is no day. Write it like 2026-05-04 or 04.05.2026.");
        var sum = NumberText.Money(cells[amount]);
        if (!sum.IsOk)
            return Result<BankLine>.Refused(sum.Refusals);
        if (sum.Value == 0m || Domain.Quantities.Money.Round(sum.Value) != sum.Value)
            return new Refusal("row-amount", $"“{Short(cells[amount])}” is no amount in whole cents.");
        var text = string.Join(' ', cells.Where((_, i) => i != day && i != amount).Select(c => c.Trim()).Where(c => c.Length > 0));
        return new BankLine(row, on, sum.Value, (text.Length > 500 ? text[..500] : text).Trim());
    }

    private static string Short(string text) => text.Length > 20 ? text[..20] + "…" : text;
}
