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
/// Reads a bank's list as CSV: a heading line with a day, an amount and any number of texts, in any order, in English or German; comma, semicolon
/// or tab between. What a bank says before its heading is passed over. Bad rows are told with their line and reason; the good ones are kept.
/// </summary>
public static class BankLines
{
    /// <summary>Most lines of one file.</summary>
    public const int Most = 20_000;

    /// <summary>So many lines a bank may say something before the heading.</summary>
    private const int MostBefore = 40;

    // Where there are several, the first name counts: the day of the booking before that of the value.
    private static readonly string[] DayNames =
    [
        "booking date",
        "posted",
        "date",
        "day",
        "buchungstag",
        "buchungsdatum",
        "datum",
        "value date",
        "valuta",
        "valutadatum",
        "wertstellung",
        "wertstellungsdatum",
    ];
    private static readonly string[] AmountNames = ["amount", "sum", "value", "credit", "betrag", "umsatz"];
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
        var lines = text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n');
        if (Array.TrueForAll(lines, string.IsNullOrWhiteSpace))
            return new Refusal("bank-empty", "The file is empty.", "File");
        if (
            lines.Take(MostBefore).Select(HeadingOf).ToList() is var headings
            && headings.FindIndex(h => h is not null) is var before and >= 0
        )
            return ReadRows(string.Join('\n', lines.Skip(before + 1)), headings[before]!, before + 1);
        return new Refusal(
            "bank-heading",
            $"A line at the top must name the columns, among them date and amount. The file begins with: {lines[0][..Math.Min(lines[0].Length, 100)]}",
            "File"
        );
    }

    /// <summary>What a heading says.</summary>
    /// <param name="Mark">What stands between the columns.</param>
    /// <param name="Day">Which column is the day.</param>
    /// <param name="Amount">Which is the amount.</param>
    private sealed record Heading(char Mark, int Day, int Amount);

    private static Heading? HeadingOf(string line)
    {
        var mark = new[] { ';', ',', '\t' }.MaxBy(m => line.Count(c => c == m));
        var heads = line.Split(mark).Select(h => h.Trim().Trim('"').Trim().ToLowerInvariant()).ToList();
        var (day, amount) = (Column(heads, DayNames), Column(heads, AmountNames));
        return day < 0 || amount < 0 ? null : new Heading(mark, day, amount);
    }

    // Banks add the currency: Betrag (EUR), Betrag in EUR, Umsatz EUR.
    private static int Column(List<string> heads, string[] names) =>
        names
            .Select(n => heads.FindIndex(h => h == n || (h.StartsWith(n + " ", StringComparison.Ordinal) && IsCurrency(h[n.Length..]))))
            .FirstOrDefault(i => i >= 0, -1);

    private static bool IsCurrency(string text) => text.Replace(" in ", "", StringComparison.Ordinal).Trim(' ', '(', ')').Length is 1 or 3;

    private static string[] Cells(CsvReader csv) => [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetString)];

    private static Result<BankFile> ReadRows(string rows, Heading heading, int before)
    {
        List<BankLine> lines = [];
        List<BadLine> bad = [];
        using var csv = CsvReader.FromText(rows, Options with { Separator = heading.Mark });
        while (csv.Read())
        {
            var cells = Cells(csv);
            if (Array.TrueForAll(cells, string.IsNullOrWhiteSpace))
                continue;
            if (lines.Count + bad.Count == Most)
                return new Refusal("bank-long", $"The file has more than {Most} lines: split it.", "File");
            var row = (int)csv.LineNumber + before;
            var read = ReadRow(row, cells, heading.Day, heading.Amount);
            if (read.IsOk)
                lines.Add(read.Value);
            else
                bad.Add(new BadLine(row, read.Refusals[0].Text));
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
        var signed = sum.Value > 0m && cells.Any(IsDebit) ? -sum.Value : sum.Value;
        return new BankLine(row, on, signed, (text.Length > 500 ? text[..500] : text).Trim());
    }

    // Some banks write no sign and a column of S and H, Soll and Haben, debit and credit, beside the amount.
    private static bool IsDebit(string cell) => cell.Trim().ToLowerInvariant() is "s" or "soll" or "d" or "debit";

    private static string Short(string text) => text.Length > 20 ? text[..20] + "…" : text;
}
