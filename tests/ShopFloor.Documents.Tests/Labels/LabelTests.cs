using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Labels;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Tests.Pdf;
using SkiaSharp;

namespace ShopFloor.Documents.Tests.Labels;

public sealed class LabelTests
{
    private static readonly DateTime At = new(2026, 5, 4, 8, 0, 0, DateTimeKind.Utc);

    private static readonly PieceLabel Label = new(
        "7K2M9-4",
        "https://shop.example/b/7K2M9-4",
        "1024 · 2/3",
        "Slate 120 × 80 mm",
        "Dry, 60 min at 110 °C",
        IsOwn: true
    );

    public static TheoryData<string, int> SizesAndPrinters
    {
        get
        {
            var data = new TheoryData<string, int>();
            foreach (var size in LabelSize.All)
            {
                data.Add(size.Name, 203);
                data.Add(size.Name, 300);
            }
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(SizesAndPrinters))]
    public void OnRoll_BlackAndWhitePrinter_BothReadersDecodeTheCode(string name, int dpi)
    {
        var size = LabelSize.All.Single(s => s.Name == name);
        var pdf = PieceLabels.OnRoll([Label], size, At).ToBytes();

        using var page = Poppler.Page(pdf, dpi, blackAndWhite: true);

        Assert.Equal(Label.Address, QrReader.Read(page));
        using var folder = new TempFolder();
        using (var png = page.Encode(SKEncodedImageFormat.Png, 100))
            File.WriteAllBytes(folder.File("label.png"), png.ToArray());
        Assert.Equal(Label.Address, Tool.Run("zbarimg", "-q", "--raw", folder.File("label.png")).Trim());
    }

    [Theory]
    [InlineData("50x25", 50, 25)]
    [InlineData("62x29", 62, 29)]
    [InlineData("100x50", 100, 50)]
    public void OnRoll_Size_IsThePage(string name, double width, double height)
    {
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(
            PieceLabels.OnRoll([Label, Label], LabelSize.All.Single(s => s.Name == name), At).ToBytes()
        );

        Assert.Equal(2, pdf.NumberOfPages);
        Assert.Equal(width * 72 / 25.4, pdf.GetPage(1).Width, 0.1);
        Assert.Equal(height * 72 / 25.4, pdf.GetPage(1).Height, 0.1);
    }

    [Fact]
    public void OnRoll_SmallestLabel_SaysAllThatMatters()
    {
        var words = Poppler.Words(PieceLabels.OnRoll([Label], LabelSize.All[0], At).ToBytes());

        Assert.Contains("7K2M9-4", words, StringComparison.Ordinal);
        Assert.Contains("OWN PIECE · 1024 · 2/3", words, StringComparison.Ordinal);
        Assert.Contains("Next: Dry", words, StringComparison.Ordinal);
        Assert.Matches(@"not\s+on\s+the\s+piece", words);
    }

    [Fact]
    public void OnRoll_AddressTooLongForTheLabel_IsABug() =>
        Assert.Throws<ArgumentException>(() =>
            PieceLabels.OnRoll([Label with { Address = "https://shop.example/" + new string('x', 300) }], LabelSize.All[0], At)
        );

    [Theory]
    [InlineData("A4-3x8", 0, 30)]
    [InlineData("A4-2x7", 5, 20)]
    public void OnSheets_ManyLabels_EachCodeReadsInItsOwnPlace(string name, int used, int count)
    {
        var sheet = LabelSheet.All.Single(s => s.Name == name);
        var labels = Enumerable
            .Range(0, count)
            .Select(i => Label with { Code = $"P{i:D3}", Address = $"https://shop.example/b/P{i:D3}" })
            .ToList();

        var pdf = PieceLabels.OnSheets(labels, sheet, used, At).ToBytes();

        for (var i = 0; i < count; i++)
        {
            using var page = Poppler.Page(pdf, 200, 1 + (used + i) / sheet.Count);
            var place = sheet.Place((used + i) % sheet.Count);
            using var cut = new SKBitmap((int)(place.Width / 25.4 * 200), (int)(place.Height / 25.4 * 200));
            Assert.True(
                page.ExtractSubset(cut, SKRectI.Create((int)(place.X / 25.4 * 200), (int)(place.Y / 25.4 * 200), cut.Width, cut.Height))
            );
            Assert.Equal(labels[i].Address, QrReader.Read(cut));
            i += 6;
        }
    }

    [Fact]
    public void Draw_PressCard_HasSettingsSignPlacesAndCautions()
    {
        var card = new BatchCard
        {
            Title = "Press card",
            Code = "S-12",
            Address = "https://shop.example/b/S-12",
            Where = "Press 1",
            Sign = "Text on the prints reads BACKWARDS",
            Settings = [new("dial", "190 °C"), new("time", "60 s")],
            Stack = [new("upper platen, hot", 6), new("print, picture down", 2, "9 3"), new("coat", 1.5, IsCoat: true), new("piece", 8)],
            Surfaces = [new("Press 1", new SizeMm(400, 300), [new("7K2M9-4", 5, 5, 120, 80), new("8AB2C-1", 130, 5, 60, 60)])],
            Pieces =
            [
                new("7K2M9-4", "1024 · 2/3", "Slate", "", "5 mm", "5 mm"),
                new("8AB2C-1", "1025 · 1/1", "Steel", "", "130 mm", "5 mm"),
            ],
            Cautions = ["Hot platen: heat gloves."],
        };

        var paper = BatchCards.Draw(card, At);
        var pdf = paper.ToBytes();

        Assert.Empty(paper.MissingCharacters);
        var words = Poppler.Words(pdf);
        foreach (
            var wanted in new[]
            {
                "S-12",
                "190 °C",
                "60 s",
                "BACKWARDS",
                "7K2M9-4",
                "8AB2C-1",
                "130 mm",
                "print, picture down",
                "400 × 300 mm",
                "Hot platen: heat gloves.",
                "page 1 of 1",
            }
        )
            Assert.Contains(wanted, words, StringComparison.Ordinal);
        using var page = Poppler.Page(pdf, 150);
        Assert.Equal(card.Address, QrReader.Read(page));
    }

    [Fact]
    public void Draw_TrayCardOfSixtyPieces_GoesOnOverPages()
    {
        var pieces = Enumerable
            .Range(1, 60)
            .Select(i => new CardPiece($"P{i:D3}", $"1024 · {i}/60", "Tile 100 × 100 mm", "1", "10 mm", "10 mm"))
            .ToList();

        var pdf = BatchCards
            .Draw(
                new BatchCard
                {
                    Title = "Tray card",
                    Code = "L-31",
                    Address = "L-31",
                    Pieces = pieces,
                },
                At
            )
            .ToBytes();

        var words = Poppler.Words(pdf);
        Assert.All(pieces, p => Assert.Contains(p.Code, words, StringComparison.Ordinal));
        Assert.Matches("page 1 of [2-9]", words);
    }

    [Fact]
    public void Draw_Ticket_HasItsLinkAndSums()
    {
        var ticket = new JobTicket(
            ["Moorlight Works"],
            "1024",
            "4 May 2026",
            ["3 × slate, Łódź"],
            "8 May",
            "https://shop.example/s/Zk3v9Qh2L8aB4nT7wXy1pR"
        )
        {
            Sums = [("Total", "96.40 EUR")],
        };

        var pdf = JobTickets.Draw(ticket, At).ToBytes();

        Assert.Matches(@"Order 1024[\s\S]*Łódź[\s\S]*96\.40 EUR", Poppler.Words(pdf, "-layout"));
        using var page = Poppler.Page(pdf, 150);
        Assert.Equal(ticket.Address, QrReader.Read(page));
    }

    [Fact]
    public void Draw_DaySheet_ListsEachStationInOrder()
    {
        var stations = new[]
        {
            new DayStation("Oven 1", [new("09:00", "09:25", "load L-31", "7K2M9-4", "160 °C")]),
            new DayStation("Press 1", []),
        };

        var words = Poppler.Words(DaySheets.Draw("Monday, 4 May 2026", "07:55", "17", stations, At).ToBytes(), "-layout");

        Assert.Matches(
            @"Monday, 4 May 2026[\s\S]*plan 17[\s\S]*Oven 1[\s\S]*09:00 +09:25 +load L-31 +7K2M9-4 +160 °C[\s\S]*Press 1[\s\S]*Nothing planned",
            words
        );
    }
}
