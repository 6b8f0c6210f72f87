using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Documents.Tests.Pdf;

namespace ShopFloor.Documents.Tests.Sheets;

public sealed class PaperStockTests
{
    private sealed record Row(string Name, double Width, double Height, double WidthPt, double HeightPt);

    /// <summary>ISO 216: series A as read in published tables, series B from memory of them (column <c>seen_or_memory</c> of the file).</summary>
    private static IEnumerable<Row> Published =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "CheckValues", "isopaper.csv"))
            .Skip(1)
            .Select(l => l.Split(','))
            .Where(c => c[0][0] is 'A' or 'B')
            .Select(c => new Row(c[0], Number(c[1]), Number(c[2]), Number(c[7]), Number(c[8])));

    [Fact]
    public void Size_EachSheetOfSeriesAAndB_IsTheStandards()
    {
        Assert.Equal(22, Published.Count());
        Assert.Equal(Published.Select(r => r.Name).Order(StringComparer.Ordinal), IsoPaper.Names.Order(StringComparer.Ordinal));
        Assert.All(Published, r => Assert.Equal(new SizeMm(r.Width, r.Height), IsoPaper.Size(r.Name)));
    }

    [Theory]
    [InlineData("A3")]
    [InlineData("A4")]
    [InlineData("A5")]
    [InlineData("B4")]
    public void AddSheet_IsoPaper_HasThePublishedSizeInPoints(string name)
    {
        var row = Published.Single(r => r.Name == name);
        var paper = new PdfPaper(PdfPaperTests.Facts);
        paper.AddSheet(IsoPaper.Size(name));

        var line = Poppler.Info(paper.ToBytes()).Split('\n').Single(l => l.StartsWith("Page size:", StringComparison.Ordinal));
        var size = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);

        Assert.Equal(row.WidthPt, Number(size[2]), 0.01);
        Assert.Equal(row.HeightPt, Number(size[4]), 0.01);
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
