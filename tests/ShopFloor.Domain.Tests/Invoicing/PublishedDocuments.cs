using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>One published document: what goes in and what its totals must be.</summary>
internal sealed record PublishedDocument(
    string File,
    IReadOnlyList<InvoiceLine> Lines,
    IReadOnlyList<decimal> Nets,
    IReadOnlyList<DocumentAdjustment> Adjustments,
    DocumentTotals Expected
)
{
    public DocumentTotals Computed => DocumentTotals.Of(Lines, Adjustments, Expected.Paid, Expected.Rounding);
}

/// <summary>
/// The numbers of 50 published documents: examples and test files of ConnectingEurope/eInvoicing-EN16931, tag validation-1.3.16, and of the Peppol BIS
/// Billing 3 rules. Each row of the file names its source.
/// </summary>
internal static class PublishedDocuments
{
    public static IReadOnlyList<PublishedDocument> All { get; } = Read();

    public static PublishedDocument Named(string file) => All.Single(d => d.File == file);

    private static List<PublishedDocument> Read()
    {
        var rows = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "CheckValues", "en16931-documents.txt"))
            .Where(r => !r.StartsWith('#'))
            .Select(r => r.Split('|'))
            .ToList();
        var starts = rows.Select((r, i) => (r, i)).Where(p => p.r[0] == "D").Select(p => p.i).Append(rows.Count).ToList();
        return [.. starts.Zip(starts.Skip(1), (from, to) => ReadOne(rows[from..to]))];
    }

    private static PublishedDocument ReadOne(List<string[]> rows)
    {
        List<InvoiceLine> lines = [];
        List<DocumentAdjustment> adjustments = [];
        foreach (var row in rows)
        {
            if (row[0] == "L")
                lines.Add(Line(row, $"{lines.Count + 1}"));
            else if (row[0] == "A" && row[5].Length == 0)
                lines[^1] = lines[^1] with { Adjustments = [.. lines[^1].Adjustments, Change(row)] };
            else if (row[0] == "A")
                adjustments.Add(new(Change(row), Kind(row[5], row[6])));
        }
        return new(rows[0][2], lines, [.. rows.Where(r => r[0] == "L").Select(r => Number(r[6]))], adjustments, Totals(rows));
    }

    private static DocumentTotals Totals(List<string[]> rows)
    {
        var t = rows.Single(r => r[0] == "T");
        var groups = rows.Where(r => r[0] == "G").Select(r => new TaxGroup(Kind(r[1], r[2]), Number(r[3]), Number(r[4])));
        return new(
            Number(t[1]),
            Maybe(t[2]),
            Maybe(t[3]),
            Number(t[4]),
            Number(t[5]),
            Number(t[6]),
            Number(t[7]),
            Number(t[8]),
            Number(t[9]),
            [.. groups]
        );
    }

    private static InvoiceLine Line(string[] row, string id) =>
        new(id, "Item", Number(row[1]), "C62", Number(row[2]), Kind(row[4], row[5]))
        {
            PriceQuantity = Number(row[3]),
            ListPrice = Maybe(row[7]),
            PriceDiscount = Maybe(row[8]),
        };

    private static Adjustment Change(string[] row) => new(row[1] == "+", Number(row[2]), "Reason", Maybe(row[3]), Maybe(row[4]));

    private static TaxKind Kind(string category, string rate) => new(TaxCategoryCodes.FromCode(category), Number(rate));

    private static decimal Number(string text) => Maybe(text) ?? 0m;

    private static decimal? Maybe(string text) => text.Length == 0 ? null : decimal.Parse(text, CultureInfo.InvariantCulture);
}
