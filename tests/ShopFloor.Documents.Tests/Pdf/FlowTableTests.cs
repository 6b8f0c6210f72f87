using CsCheck;
using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Tests.Pdf;

public sealed class FlowTableTests
{
    private static readonly TableColumn[] Columns = [new("No.", 15), new("What", 105), new("Amount", 40, Align.Right)];

    [Fact]
    public void Table_FiveHundredRows_CarriesTheRightSumOverEachPageEnd()
    {
        var rows = Enumerable.Range(1, 500).Select(i => new TableRow([$"{i}", $"Line {i}", Money(i)], i)).ToList();

        var pdf = Write(rows);

        using var read = UglyToad.PdfPig.PdfDocument.Open(pdf);
        Assert.True(read.NumberOfPages > 5);
        var carriedBefore = 0m;
        for (var p = 1; p <= read.NumberOfPages; p++)
        {
            var lines = Poppler
                .Words(pdf, "-layout", "-f", $"{p}", "-l", $"{p}")
                .Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            var sum = lines.Where(l => l.Contains("Line ", StringComparison.Ordinal)).Sum(Amount);
            if (p > 1)
                Assert.Equal(carriedBefore, Amount(lines.Single(l => l.StartsWith("Brought forward", StringComparison.Ordinal))));
            if (p < read.NumberOfPages)
                Assert.Equal(carriedBefore + sum, Amount(lines.Single(l => l.StartsWith("Carried over", StringComparison.Ordinal))));
            carriedBefore += sum;
            Assert.Contains($"Page {p} of {read.NumberOfPages}", lines[^1], StringComparison.Ordinal);
        }
        Assert.Equal(500 * 501 / 2, carriedBefore);
    }

    [Fact]
    public void Table_AnyTexts_LosesNoWordAndStaysInsideTheMargins() =>
        Gen.Select(Gen.Int[1, 12], Gen.Int[0, 900], Gen.Int[0, 80])
            .List[1, 25]
            .Sample(
                shape =>
                {
                    var rows = shape
                        .Select(
                            (s, i) =>
                                new TableRow([$"n{i}", Words(i, s.Item1, s.Item2 / s.Item1), $"a{i}"])
                                {
                                    Note = Words(1000 + i, s.Item3, 5),
                                }
                        )
                        .ToList();
                    var pdf = Write(rows);
                    using var read = UglyToad.PdfPig.PdfDocument.Open(pdf);
                    var text = string.Concat(read.GetPages().SelectMany(p => p.Letters.Select(l => l.Value)));
                    foreach (var row in rows)
                    foreach (var word in (row.Cells[1] + " " + row.Note).Split(' ', StringSplitOptions.RemoveEmptyEntries))
                        Assert.Contains(word[..Math.Min(4, word.Length)], text, StringComparison.Ordinal);
                    Assert.Equal(rows.Sum(r => (r.Cells[1] + r.Note).Count(c => c == '#')), text.Count(c => c == '#'));
                    Assert.All(
                        read.GetPages().SelectMany(p => p.Letters),
                        l => Assert.InRange(l.StartBaseLine.Y, PdfUnit.Points(9), PdfUnit.Points(277.5))
                    );
                    Assert.All(
                        read.GetPages().SelectMany(p => p.Letters),
                        l => Assert.InRange(l.EndBaseLine.X, PdfUnit.Points(20), PdfUnit.Points(190))
                    );
                },
                iter: 25,
                threads: 1
            );

    private static string Words(int row, int count, int length) =>
        string.Join(' ', Enumerable.Range(0, count).Select(w => $"#{row}.{w}" + new string('m', length)));

    private static byte[] Write(IReadOnlyList<TableRow> rows) =>
        PaperFlow
            .Write(
                PdfPaperTests.Facts,
                new FlowPage(new SizeMm(210, 297), new InsetsMm(25, 20, 25, 20))
                {
                    Furniture = (sheet, page, pages) =>
                        sheet.Text($"Page {page} of {pages}", new PointMm(185, 287), TextStyle.Small, Align.Right),
                },
                flow =>
                    flow.Table(
                        new FlowTable(Columns, rows)
                        {
                            CarryRow = (sum, atFoot) =>
                                new TableRow(["", atFoot ? "Carried over" : "Brought forward", Money(sum)]) { Strong = true },
                        }
                    )
            )
            .ToBytes();

    private static string Money(decimal amount) => amount.ToString("0.00", CultureInfo.InvariantCulture);

    private static decimal Amount(string line) => decimal.Parse(line.Split(' ')[^1], CultureInfo.InvariantCulture);
}
