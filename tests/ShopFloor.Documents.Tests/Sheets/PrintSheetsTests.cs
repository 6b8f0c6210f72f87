using CsCheck;
using ShopFloor.Documents.Imaging;
using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Documents.Tests.Imaging;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;
using SkiaSharp;
using UglyToad.PdfPig;

namespace ShopFloor.Documents.Tests.Sheets;

public sealed class PrintSheetsTests
{
    private const double PointsPerMm = 72 / 25.4;

    [Theory]
    [InlineData(Finish.ShowThrough, true)]
    [InlineData(Finish.WhiteGround, true)]
    [InlineData(Finish.VelvetMatt, true)]
    [InlineData(Finish.BehindGlass, false)]
    public void Draw_EachFinish_PixelsAndCheckLineAreMirroredByTheOneRule(Finish finish, bool mirrored)
    {
        var run = SheetSamples.PlanUnturned(SheetSamples.On("A4"), SheetSamples.Of("7K2M9", SheetSamples.Plate(80, 60), finish));

        var pdf = PrintSheets.Draw(run, SheetSamples.Label).ToBytes();

        using var page = Poppler.Page(pdf, 100);
        var at = Print(run.Sheets[0].Cells[0]);
        var (left, right) = mirrored ? (TestPictures.Green, TestPictures.Red) : (TestPictures.Red, TestPictures.Green);
        PictureDoorTests.AssertNear(left, Pixel(page, at.X + 5, at.Y + 5, 100), 2);
        PictureDoorTests.AssertNear(right, Pixel(page, at.Right - 5, at.Y + 5, 100), 2);
        AssertCheckLine(pdf, mirrored);
    }

    [Fact]
    public void Draw_PrinterDriverMirrorsToo_ThePaperIsRightAllTheSame()
    {
        var request = SheetSamples.On("A4") with { Printer = SheetSamples.Printer with { DriverMirrors = true } };
        var run = SheetSamples.PlanUnturned(request, SheetSamples.Of("7K2M9", SheetSamples.Plate(80, 60)));

        using var file = Poppler.Page(PrintSheets.Draw(run, SheetSamples.Label).ToBytes(), 100);

        // What the driver makes of the page: its mirror image.
        using var paper = new SKBitmap(file.Width, file.Height);
        for (var y = 0; y < file.Height; y++)
        for (var x = 0; x < file.Width; x++)
            paper.SetPixel(x, y, file.GetPixel(file.Width - 1 - x, y));
        var at = Print(run.Sheets[0].Cells[0]);
        PictureDoorTests.AssertNear(TestPictures.Green, Pixel(paper, at.X + 5, at.Y + 5, 100), 2);
        PictureDoorTests.AssertNear(TestPictures.Red, Pixel(paper, at.Right - 5, at.Y + 5, 100), 2);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1.0042, 0.9973)]
    public void Draw_Picture_HasItsTrueSizeToATenthOfAMillimetre(double across, double along)
    {
        var printer = SheetSamples.Printer with { CorrectionX = across, CorrectionY = along };
        var run = SheetSamples.PlanUnturned(
            SheetSamples.On("A3") with
            {
                Printer = printer,
            },
            SheetSamples.Of("7K2M9", SheetSamples.Plate(251.3, 187.7))
        );
        var turned = run.Sheets[0].Cells[0].Turned;

        using var pdf = PdfDocument.Open(PrintSheets.Draw(run, SheetSamples.Label).ToBytes());

        // 2 mm of bleed on each side; the printer makes lengths on its paper smaller by what the file makes them larger.
        var box = pdf.GetPage(1).GetImages().Single().BoundingBox;
        var (wide, high) = turned ? (191.7, 255.3) : (255.3, 191.7);
        Assert.Equal(wide * across * PointsPerMm, box.Width, 0.05 * PointsPerMm);
        Assert.Equal(high * along * PointsPerMm, box.Height, 0.05 * PointsPerMm);
    }

    [Fact]
    public void Draw_PictureLaidByTheTradeRule_LandsWhereTheRuleSays()
    {
        var picture = PrintPicture.Of(TestPictures.Png());
        var choice = new PictureChoice(
            240,
            160,
            60,
            90,
            PictureFit.Fill,
            QuarterTurn.Right,
            new PictureCrop(0.1, 0, 0.8, 1),
            2,
            4,
            0.3,
            0.5
        );
        var placement = PicturePlacement.From(choice).Value;
        var transfer = new Transfer("7K2M9", "", SheetSamples.Plate(60, 90), 2, Finish.BehindGlass)
        {
            Picture = new TransferPicture(picture, placement.PixelToFace),
        };
        var run = SheetSamples.PlanUnturned(SheetSamples.On("A4"), transfer);

        using var page = Poppler.Page(PrintSheets.Draw(run, SheetSamples.Label).ToBytes(), 100);

        var print = Print(run.Sheets[0].Cells[0]);
        using var source = TestPictures.Corners();
        var seen = 0;
        for (var y = 8; y < 160; y += 16)
        for (var x = 8; x < 240; x += 16)
        {
            var onFace = placement.PixelToFace.Apply(new PlanePoint(x + 0.5, y + 0.5));
            if (onFace.X < -1 || onFace.X > 61 || onFace.Y < -1 || onFace.Y > 91 || IsNearAnEdge(source, x, y))
                continue;
            PictureDoorTests.AssertNear(source.GetPixel(x, y), Pixel(page, print.X + 2 + onFace.X, print.Y + 2 + onFace.Y, 100), 2);
            seen++;
        }
        Assert.True(seen > 60);
    }

    public static TheoryData<FaceOutline> Shapes =>
        new(
            new FaceOutline(FaceShape.Disc, 60, 0),
            new FaceOutline(FaceShape.Ring, 60, 0, HoleMm: 24),
            new FaceOutline(FaceShape.RoundedRectangle, 70, 50, CornerMm: 12),
            new FaceOutline(FaceShape.Ellipse, 80, 40)
        );

    [Theory]
    [MemberData(nameof(Shapes))]
    public void Draw_Shape_IsClippedAtItsBleedAndNowhereElse(FaceOutline face)
    {
        const int dpi = 150;
        using var black = new SKBitmap(10, 10);
        black.Erase(new SKColor(0, 0, 200));
        var picture = PrintPicture.Of(TestPictures.Encoded(black, SKEncodedImageFormat.Png, 100, keep: true));
        var run = SheetSamples.PlanUnturned(SheetSamples.On("A4"), SheetSamples.Of("7K2M9", face, picture: picture));

        using var page = Poppler.Page(PrintSheets.Draw(run, SheetSamples.Label).ToBytes(), dpi);

        var print = Print(run.Sheets[0].Cells[0]);
        for (var y = print.Y - 0.4; y < print.Bottom + 0.4; y += 0.37)
        for (var x = print.X - 0.4; x < print.Right + 0.4; x += 0.37)
        {
            var distance = Distance(face, 2, x - print.Middle.X, y - print.Middle.Y);
            if (Math.Abs(distance) < 0.2)
                continue;
            var blue = Pixel(page, x, y, dpi) is { Blue: > 150, Red: < 60 };
            Assert.True(blue == distance < 0, $"{face.Shape} at {x - print.Middle.X:0.0}, {y - print.Middle.Y:0.0} mm from the middle");
        }
    }

    [Fact]
    public void Draw_DesignText_IsTextAndMirroredWithThePicture()
    {
        var transfer = SheetSamples.Of("7K2M9", SheetSamples.Plate(80, 60)) with
        {
            Texts = [new TransferText("Łódź 1984", new TextStyle(TypeFace.Bold, 20, Ink.Black), new PointMm(40, 40))],
        };
        var run = SheetSamples.PlanUnturned(SheetSamples.On("A4"), transfer);

        using var pdf = PdfDocument.Open(PrintSheets.Draw(run, SheetSamples.Label).ToBytes());

        var letters = pdf.GetPage(1).Letters.Where(l => l.PointSize > 15 || l.FontSize > 15).ToList();
        Assert.Equal("Łódź 1984", string.Concat(letters.Select(l => l.Value)));
        Assert.True(letters[0].StartBaseLine.X > letters[^1].StartBaseLine.X);
        var middle = (letters[0].StartBaseLine.X + letters[^1].EndBaseLine.X) / 2;
        Assert.Equal(Print(run.Sheets[0].Cells[0]).Middle.X * PointsPerMm, middle, 0.3);
    }

    [Fact]
    public void Draw_ManyTransfers_NothingOverlapsNothingLeavesThePrintableArea() =>
        Gen.Select(Gen.Double[8, 120], Gen.Double[8, 120], Gen.Enum<FaceShape>(), Gen.Enum<Finish>())
            .List[1, 25]
            .Sample(
                faces =>
                {
                    var picture = PrintPicture.Of(TestPictures.Png(24, 16));
                    var transfers = faces.Select(
                        (f, i) => SheetSamples.Of($"P{i:D4}", new FaceOutline(f.Item3, f.Item1, f.Item2, 3, 4), f.Item4, picture)
                    );
                    var run = SheetSamples.Plan(SheetSamples.On("A4", "A3"), [.. transfers]);
                    var pdf = PrintSheets.Draw(run, SheetSamples.Label).ToBytes();
                    using var read = PdfDocument.Open(pdf);
                    Assert.Equal(run.Sheets.Count, read.NumberOfPages);
                    Assert.Equal(faces.Count, read.GetPages().Sum(p => p.GetImages().Count()));
                    foreach (var page in read.GetPages())
                        AssertApartAndInside(page);
                    AssertWhiteRim(pdf, run);
                },
                iter: 12,
                threads: 1
            );

    [Fact]
    public void Draw_SheetWithHeadFootAndMarks_SaysWhatItIs()
    {
        var transfer = SheetSamples.Of("7K2M9", SheetSamples.Plate(80, 60)) with { Group = "S-12" };
        var pdf = PrintSheets.Draw(SheetSamples.PlanUnturned(SheetSamples.On("A4"), transfer), SheetSamples.Label).ToBytes();

        var words = Poppler.Words(pdf);

        Assert.Contains("Transfers for Monday · S-12", words, StringComparison.Ordinal);
        Assert.Contains("sheet 1 of 1 · A4 · T-0042 · 2026-05-04 08:00", words, StringComparison.Ordinal);
        Assert.Contains("7K2M9", words, StringComparison.Ordinal);
        Assert.Contains("icc", Poppler.Images(pdf), StringComparison.Ordinal);
    }

    private static void AssertApartAndInside(UglyToad.PdfPig.Content.Page page)
    {
        var boxes = page.GetImages().Select(i => Upright(i.BoundingBox)).ToList();
        var paper = new RectMm(0, 0, page.Width / PointsPerMm, page.Height / PointsPerMm);
        for (var a = 0; a < boxes.Count; a++)
        {
            Assert.True(paper.Inside(InsetsMm.All(5)).Holds(boxes[a]), $"{boxes[a]} leaves the printable area");
            for (var b = a + 1; b < boxes.Count; b++)
                Assert.False(boxes[a].Overlaps(boxes[b]), $"{boxes[a]} lies over {boxes[b]}");
        }
    }

    /// <summary>In millimetres; a mirrored or turned picture has its corners the other way round.</summary>
    private static RectMm Upright(UglyToad.PdfPig.Core.PdfRectangle r)
    {
        double[] x = [r.TopLeft.X, r.TopRight.X, r.BottomLeft.X, r.BottomRight.X];
        double[] y = [r.TopLeft.Y, r.TopRight.Y, r.BottomLeft.Y, r.BottomRight.Y];
        return new RectMm(
            x.Min() / PointsPerMm,
            y.Min() / PointsPerMm,
            (x.Max() - x.Min()) / PointsPerMm,
            (y.Max() - y.Min()) / PointsPerMm
        );
    }

    private static void AssertWhiteRim(byte[] pdf, PrintRun run)
    {
        for (var p = 1; p <= run.Sheets.Count; p++)
        {
            using var page = Poppler.Page(pdf, 50, p);
            var rim = (int)(4.8 / 25.4 * 50);
            for (var y = 0; y < page.Height; y++)
            for (var x = 0; x < page.Width; x++)
                if (x < rim || y < rim || x >= page.Width - rim || y >= page.Height - rim)
                    Assert.True(page.GetPixel(x, y) == SKColors.White, $"page {p}: ink at {x},{y}");
        }
    }

    private static void AssertCheckLine(byte[] pdf, bool mirrored)
    {
        using var read = PdfDocument.Open(pdf);
        var all = read.GetPage(1).Letters.ToList();
        var line = new SheetWords();
        var wanted = mirrored ? line.ReadsBackwards : line.ReadsForwards;
        var at = string.Concat(all.Select(l => l.Value)).IndexOf(wanted, StringComparison.Ordinal);
        Assert.True(at >= 0);
        Assert.Equal(mirrored, all[at].StartBaseLine.X > all[at + wanted.Length - 1].StartBaseLine.X);
    }

    /// <summary>Where the print of an unturned cell lies on the paper.</summary>
    private static RectMm Print(PlacedCell placed)
    {
        Assert.False(placed.Turned);
        var print = placed.Cell.Print;
        return print with { X = placed.At.X + print.X, Y = placed.At.Y + print.Y };
    }

    private static SKColor Pixel(SKBitmap page, double xMm, double yMm, int dpi) =>
        page.GetPixel((int)(xMm / 25.4 * dpi), (int)(yMm / 25.4 * dpi));

    private static bool IsNearAnEdge(SKBitmap source, int x, int y)
    {
        for (var dy = -4; dy <= 4; dy += 4)
        for (var dx = -4; dx <= 4; dx += 4)
            if (source.GetPixel(Math.Clamp(x + dx, 0, 239), Math.Clamp(y + dy, 0, 159)) != source.GetPixel(x, y))
                return true;
        return false;
    }

    /// <summary>Roughly how far a place is outside (positive) or inside (negative) of the shape grown by its bleed, from the middle.</summary>
    private static double Distance(FaceOutline face, double bleed, double x, double y)
    {
        var (a, b) = (face.Box.Width / 2 + bleed, face.Box.Height / 2 + bleed);
        switch (face.Shape)
        {
            case FaceShape.RoundedRectangle:
                var r = face.CornerMm + bleed;
                var (dx, dy) = (Math.Abs(x) - (a - r), Math.Abs(y) - (b - r));
                return dx > 0 && dy > 0 ? Math.Sqrt(dx * dx + dy * dy) - r : Math.Max(dx, dy) - r;
            case FaceShape.Ring:
                var radius = Math.Sqrt(x * x + y * y);
                return Math.Max(radius - a, face.HoleMm / 2 - bleed - radius);
            default:
                var k = Math.Sqrt(x * x / (a * a) + y * y / (b * b));
                return (k - 1) * Math.Min(a, b);
        }
    }
}
