using ShopFloor.Documents.Pdf;
using ShopFloor.Documents.Sheets;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Documents;

namespace ShopFloor.Documents.Tests.Sheets;

public sealed class PrintRunPlannerTests
{
    private static readonly PrintRunPlanner Planner = new(PlannerNest.Run);

    [Fact]
    public void Plan_MirroredAndStraight_NeverShareASheet()
    {
        var run = SheetSamples.Plan(
            SheetSamples.On("A3"),
            SheetSamples.Of("A", SheetSamples.Plate(40, 40), Finish.BehindGlass),
            SheetSamples.Of("B", SheetSamples.Plate(40, 40), Finish.ShowThrough)
        );

        Assert.Equal(2, run.Sheets.Count);
        Assert.All(run.Sheets, s => Assert.All(s.Cells, c => Assert.Equal(s.Mirrored, c.Cell.Transfer.Finish.PrintIsMirrored())));
    }

    [Fact]
    public void Plan_TwoSessions_EachHasItsOwnSheetsInTheOrderGiven()
    {
        var run = SheetSamples.Plan(
            SheetSamples.On("A4"),
            SheetSamples.Of("A", SheetSamples.Plate(40, 40)) with
            {
                Group = "S-2",
            },
            SheetSamples.Of("B", SheetSamples.Plate(40, 40)) with
            {
                Group = "S-1",
            }
        );

        Assert.Equal(["S-2", "S-1"], run.Sheets.Select(s => s.Group));
    }

    [Fact]
    public void Plan_SmallAndLargePaper_TakesTheOneThatWastesLess()
    {
        Assert.Equal(
            "A4",
            SheetSamples.Plan(SheetSamples.On("A3", "A4"), SheetSamples.Of("A", SheetSamples.Plate(60, 60))).Sheets[0].Paper.Name
        );
        Assert.Equal(
            "A3",
            SheetSamples.Plan(SheetSamples.On("A3", "A4"), SheetSamples.Of("A", SheetSamples.Plate(260, 200))).Sheets[0].Paper.Name
        );
    }

    [Fact]
    public void Plan_Roll_IsCutToTheLengthThatIsNeeded()
    {
        var roll = new PaperStock("roll 610", 610, 5000, IsRoll: true);
        var transfers = Enumerable.Range(0, 24).Select(i => SheetSamples.Of($"P{i}", SheetSamples.Plate(90, 130))).ToArray();
        var run = SheetSamples.Plan(new PrintRequest(SheetSamples.Printer, [roll]), transfers);

        var sheet = Assert.Single(run.Sheets);
        Assert.Equal(610, sheet.Size.Width);
        // 24 cells of 100 × 144 mm cover 346 000 mm² of a width of 600 mm: at least 576 mm of length.
        Assert.InRange(sheet.Size.Height, 576, 760);
        using var pdf = UglyToad.PdfPig.PdfDocument.Open(PrintSheets.Draw(run, SheetSamples.Label).ToBytes());
        Assert.Equal(sheet.Size.Height * 72 / 25.4, pdf.GetPage(1).Height, 0.1);
    }

    [Fact]
    public void Plan_NoPaperTakesAllOfAGroup_SplitsItByPaper()
    {
        var strip = new PaperStock("strip", 120, 900);
        var request = new PrintRequest(SheetSamples.Printer, [PaperStock.Iso("A4"), strip]);

        var run = SheetSamples.Plan(
            request,
            SheetSamples.Of("WIDE", SheetSamples.Plate(180, 180)),
            SheetSamples.Of("LONG", SheetSamples.Plate(60, 700)),
            SheetSamples.Of("WIDE2", SheetSamples.Plate(180, 200))
        );

        var papers = run
            .Sheets.SelectMany(s => s.Cells.Select(c => (c.Cell.Transfer.Code, s.Paper.Name)))
            .ToDictionary(c => c.Code, c => c.Name);
        Assert.Equal(("A4", "strip", "A4"), (papers["WIDE"], papers["LONG"], papers["WIDE2"]));
        Assert.Equal(Enumerable.Range(1, run.Sheets.Count), run.Sheets.Select(s => s.Number));
        Assert.All(run.Sheets, s => Assert.Equal(run.Sheets.Count, s.Of));
        Assert.Equal([("A4", 2), ("strip", 1)], run.Use.Select(u => (u.Paper, u.Transfers)));
        var refused = Planner.Plan(
            [SheetSamples.Of("WIDE", SheetSamples.Plate(180, 180)), SheetSamples.Of("HUGE", SheetSamples.Plate(300, 700))],
            request
        );
        Assert.Equal("HUGE", Assert.Single(refused.Refusals).Field);
    }

    [Fact]
    public void Plan_LargerThanEveryPaper_IsRefusedWithTheLargestSizeAndTheWayOut()
    {
        var refusal = Assert.Single(
            Planner.Plan([SheetSamples.Of("7K2M9", SheetSamples.Plate(400, 500))], SheetSamples.On("A4", "A3")).Refusals
        );

        Assert.Equal("transfer-too-large", refusal.Code);
        Assert.Contains("404 × 504 mm", refusal.Text, StringComparison.Ordinal);
        Assert.Contains("A3", refusal.Text, StringComparison.Ordinal);
        Assert.Contains("tiles", refusal.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Plan_LargerThanEveryPaperInTiles_CoversAllOfItWithOverlap()
    {
        var request = SheetSamples.On("A4", "A3") with { AllowTiles = true };

        var run = SheetSamples.Plan(request, SheetSamples.Of("7K2M9", SheetSamples.Plate(400, 500)));

        var windows = run.Sheets.SelectMany(s => s.Cells).Select(c => c.Cell.Window).ToList();
        Assert.True(windows.Count > 1);
        for (var y = -2.0; y <= 502; y += 3.7)
        for (var x = -2.0; x <= 402; x += 3.7)
            Assert.Contains(windows, w => x >= w.X && x <= w.Right && y >= w.Y && y <= w.Bottom);
        Assert.All(windows, w => Assert.True(windows.Count(o => o.Overlaps(w)) > 1));
        Assert.Contains("1/", Poppler.Words(PrintSheets.Draw(run, SheetSamples.Label).ToBytes()), StringComparison.Ordinal);
    }

    [Fact]
    public void Plan_BadTransfers_NamesEachOfThem()
    {
        var good = SheetSamples.Of("GOOD", SheetSamples.Plate(40, 40));
        Transfer[] bad =
        [
            good with
            {
                Code = "ZERO",
                Face = SheetSamples.Plate(0, 40),
            },
            good with
            {
                Code = "NAN",
                Face = SheetSamples.Plate(double.NaN, 40),
            },
            good with
            {
                Code = "EMPTY",
                Picture = null,
            },
            good with
            {
                Code = "GLYPH",
                Texts = [new TransferText("Für 漢", TextStyle.Body, new PointMm(20, 20))],
            },
        ];

        var refusals = Planner.Plan([good, .. bad], SheetSamples.On("A4")).Refusals;

        Assert.Equal(["ZERO", "NAN", "EMPTY", "GLYPH"], refusals.Select(r => r.Field));
        Assert.Contains("漢", refusals[^1].Text, StringComparison.Ordinal);
        Assert.Equal("run-empty", Assert.Single(Planner.Plan([], SheetSamples.On("A4")).Refusals).Code);
        Assert.Equal("no-paper", Assert.Single(Planner.Plan([good], SheetSamples.On()).Refusals).Code);
    }

    [Fact]
    public void CorrectionFrom_MeasuredLengths_MakesTheNextPageRight()
    {
        // A printer that makes everything 0.4 % short: 199.2 mm instead of 200.
        var first = PrinterFacts.CorrectionFrom(200, 199.2, 1, "x").Value;
        Assert.Equal(200, 200 * first * 0.996, 0.01);
        Assert.Equal(first, PrinterFacts.CorrectionFrom(200, 200, first, "x").Value);
        Assert.Equal("measure-far-off", Assert.Single(PrinterFacts.CorrectionFrom(200, 190, 1, "x").Refusals).Code);
        Assert.Equal("measure-missing", Assert.Single(PrinterFacts.CorrectionFrom(200, 0, 1, "x").Refusals).Code);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1.004, 0.998)]
    public void CalibrationSheet_Arrows_AreAsLongAsTheySayTimesTheCorrection(double across, double along)
    {
        var printer = SheetSamples.Printer with { CorrectionX = across, CorrectionY = along };
        var paper = PaperStock.Iso("A4");

        var pdf = CalibrationSheet.Draw(paper, printer, SheetSamples.Label.MadeAtUtc).ToBytes();

        Assert.Contains("should be 180 mm", Poppler.Words(pdf), StringComparison.Ordinal);
        using var page = Poppler.Page(pdf, 300);
        var length = CalibrationSheet.AcrossMm(paper, printer) * across;
        var left = 5 + 8 * across;
        var y = 5 + (11 + 8) * along;
        foreach (var tip in new[] { left, left + length })
            Assert.True(IsUprightLine(page, tip, y - 2.5), $"no end mark at {tip:0.00} mm");
    }

    private static bool IsUprightLine(SkiaSharp.SKBitmap page, double xMm, double yMm)
    {
        var (x, y) = ((int)(xMm / 25.4 * 300), (int)(yMm / 25.4 * 300));
        return Enumerable.Range(-1, 3).Any(d => Enumerable.Range(0, 10).All(i => page.GetPixel(x + d, y + i).Red < 200));
    }
}
