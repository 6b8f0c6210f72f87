using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Tests.Pdf;

public sealed class PdfPaperTests
{
    /// <summary>Letters of the official languages of Europe beyond ASCII, written from memory of their alphabets.</summary>
    private const string EuropeanLetters =
        "ÄÖÜẞäöüß ÀÂÆÇÉÈÊËÎÏÔŒÙÛŸ ÁÍÑÓÚ¿¡ ÅØåø ÐÞðþ ĄĆĘŁŃŚŹŻ ČĎĚŇŘŠŤŮŽ ĐĆđ ĞİŞğış ĂȘȚășț ŐŰőű ĀĒĢĪĶĻŅŪ ĖĮŲ ĊĠĦŻ ŴŶ ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ άέήίόύώϊΐ "
        + "АБВГДЕЖЗИЙКЛМНОПРСТУФХЦЧШЩЪЫЬЭЮЯ ЂЃЄІЇЈЉЊЋЌЎЏҐ €£«»„“”‚‘’–—…№§°²³×±½";

    public static PaperFacts Facts { get; } = new("Trial sheet", new DateTime(2026, 5, 4, 8, 0, 0, DateTimeKind.Utc));

    [Fact]
    public void Drawable_EuropeanLetters_AllAreInTheFonts() => Assert.Empty(TypeFaces.Missing(EuropeanLetters));

    [Fact]
    public void Text_EuropeanLetters_ComeOutOfThePdfAsTheyWent()
    {
        var paper = new PdfPaper(Facts);
        var sheet = paper.AddSheet(new SizeMm(210, 297));
        var y = 20.0;
        foreach (var word in EuropeanLetters.Split(' '))
            sheet.Text(word, new PointMm(10, y += 8), TextStyle.Body);

        var pdf = paper.ToBytes();

        var words = Poppler.Words(pdf).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(EuropeanLetters.Split(' '), words);
        Assert.Empty(paper.MissingCharacters);
        var font = Assert.Single(Poppler.Fonts(pdf).Split('\n').Skip(2), l => l.Length > 0);
        Assert.Matches(@"\+Inter Tabular +CID TrueType +Identity-H +yes yes yes", font);
    }

    [Fact]
    public void Text_CharacterThatTheFontsLack_IsDrawnAsBoxAndReported()
    {
        var paper = new PdfPaper(Facts);
        paper.AddSheet(new SizeMm(100, 50)).Text("Vase 漢 for \U0001F600 \uD83D end", new PointMm(10, 20), TextStyle.Body);

        Assert.Equal(["漢", "\U0001F600", "\uFFFD"], paper.MissingCharacters);
        Assert.Equal("Vase □ for □ □ end", Poppler.Words(paper.ToBytes()).Trim());
    }

    [Theory]
    [InlineData(210, 297)]
    [InlineData(215.9, 279.4)]
    [InlineData(62, 29)]
    [InlineData(610, 1200)]
    public void AddSheet_SizeInMillimetres_IsThePageInPoints(double width, double height)
    {
        var paper = new PdfPaper(Facts);
        paper.AddSheet(new SizeMm(width, height));

        using var read = UglyToad.PdfPig.PdfDocument.Open(paper.ToBytes());

        // A point is 1/72 inch (ISO 32000), an inch 25.4 mm (ISO 80000-3), both from memory.
        Assert.Equal(width / 25.4 * 72, read.GetPage(1).Width, 0.01);
        Assert.Equal(height / 25.4 * 72, read.GetPage(1).Height, 0.01);
    }

    [Fact]
    public void WidthMm_Text_IsTheWidthThatIsPrinted()
    {
        var paper = new PdfPaper(Facts);
        var style = TextStyle.Body.At(40);
        paper.AddSheet(new SizeMm(210, 60)).Text("HIJK 1274", new PointMm(10, 40), style);

        using var read = UglyToad.PdfPig.PdfDocument.Open(paper.ToBytes());

        var letters = read.GetPage(1).Letters;
        var printed = letters[^1].EndBaseLine.X - letters[0].StartBaseLine.X;
        // The PDF keeps each letter's width to a thousandth of the size: half of that, nine times, may be lost.
        Assert.Equal(style.WidthMm("HIJK 1274") / 25.4 * 72, printed, 9 * 0.0005 * 40);
    }

    [Fact]
    public void Text_TaggedDocument_HasItsReadingOrder()
    {
        var pdf = PaperFlow
            .Write(
                Facts with
                {
                    Tagged = true,
                },
                new FlowPage(new SizeMm(210, 297), InsetsMm.All(20)),
                flow =>
                {
                    flow.Paragraph("Order slip", TextStyle.Title, role: TextRole.Title);
                    flow.Paragraph("Three tiles.", TextStyle.Body);
                    flow.Table(new FlowTable([new("Piece", 100), new("Price", 40, Align.Right)], [new(["Tile", "12.00"])]));
                }
            )
            .ToBytes();

        Assert.Contains("Tagged:          yes", Poppler.Info(pdf), StringComparison.Ordinal);
        var tree = Poppler.Info(pdf, "-struct-text");
        Assert.Matches(@"(?s)H1.*Order slip.*P .*Three tiles.*Table.*TR.*TH.*Piece.*TR.*TD.*Tile", tree);
    }

    [Fact]
    public void ToBytes_ManyThreadsAtOnce_AllDocumentsAreWhole()
    {
        var pdfs = new byte[64][];

        Parallel.For(
            0,
            pdfs.Length,
            new ParallelOptions { MaxDegreeOfParallelism = 8 },
            i =>
            {
                var paper = new PdfPaper(Facts);
                var sheet = paper.AddSheet(new SizeMm(100, 100));
                foreach (var face in Enum.GetValues<TypeFace>())
                    sheet.Text($"Piece {i} {face}", new PointMm(10, 20 + 10 * (int)face), new TextStyle(face, 8 + i % 7, Ink.Black));
                pdfs[i] = paper.ToBytes();
            }
        );

        for (var i = 0; i < pdfs.Length; i++)
        {
            using var read = UglyToad.PdfPig.PdfDocument.Open(pdfs[i]);
            Assert.Contains($"Piece {i} SemiBold", read.GetPage(1).Text, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void SaveTo_NoSheet_IsABug() => Assert.Throws<InvalidOperationException>(() => new PdfPaper(Facts).ToBytes());
}
