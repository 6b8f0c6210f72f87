using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Sheets;

/// <summary>The words on a calibration page.</summary>
public sealed record CalibrationWords
{
    /// <summary>Title; {0} is the printer.</summary>
    public string Title { get; init; } = "Calibration page for {0}";

    /// <summary>What to do.</summary>
    public string Steps { get; init; } =
        "1. Print this page at 100 %, without fitting to the page, on the paper that you print transfers on.\n"
        + "2. Let it dry. Measure the two long arrows with a steel rule, from tip to tip.\n"
        + "3. Enter both lengths at the printer's settings. The next page printed must measure right to 0.1 mm in 100 mm.";

    /// <summary>Beside an arrow; {0} is the length.</summary>
    public string ShouldBe { get; init; } = "should be {0} mm, measured: ______ mm";

    /// <summary>The correction in force; {0} across, {1} along.</summary>
    public string Correction { get; init; } = "Printed with correction {0} across and {1} along.";

    /// <summary>How the page must read.</summary>
    public string Reads { get; init; } = "This page must read forwards, in black on white.";
}

/// <summary>A page with rulers and two long arrows, from which the owner finds a printer's correction in both axes.</summary>
public static class CalibrationSheet
{
    /// <summary>Length of the arrow across: what fits, in whole tens of millimetres.</summary>
    public static double AcrossMm(PaperStock paper, PrinterFacts printer) => Tens(SheetArea.Of(Size(paper), printer).Area.Width - 12);

    /// <summary>Length of the arrow along the feed.</summary>
    public static double AlongMm(PaperStock paper, PrinterFacts printer) => Tens(SheetArea.Of(Size(paper), printer).Area.Height - 12);

    /// <summary>Draws the page for a paper.</summary>
    public static PdfPaper Draw(PaperStock paper, PrinterFacts printer, DateTime madeAtUtc, CalibrationWords? words = null)
    {
        words ??= new CalibrationWords();
        var title = string.Format(CultureInfo.InvariantCulture, words.Title, printer.Name);
        var pdf = new PdfPaper(new PaperFacts(title, madeAtUtc));
        var page = pdf.AddSheet(Size(paper));
        var rooms = SheetArea.Of(page.Size, printer);
        using var mirroredBack = printer.DriverMirrors ? page.Moved(Motion.MirrorAbout(page.Size.Width / 2)) : null;
        using var corrected = page.Moved(PrintSheets.Correction(printer, rooms));
        page.Shape(
            new Outline.Box(new RectMm(rooms.Head.X, rooms.Head.Y, rooms.Head.Width, rooms.Foot.Bottom - rooms.Head.Y).Grown(-0.1)),
            Stroke.Hair
        );
        Across(page, rooms.Area, AcrossMm(paper, printer), words);
        Along(page, rooms.Area, AlongMm(paper, printer), words);
        Text(page, rooms, printer, title, words);
        return pdf;
    }

    private static SizeMm Size(PaperStock paper) =>
        new(paper.WidthMm, paper.IsRoll ? Math.Min(paper.HeightMm, paper.WidthMm * 1.4) : paper.HeightMm);

    private static double Tens(double length) => Math.Floor(length / 10) * 10;

    private static void Across(PdfSheet page, RectMm area, double length, CalibrationWords words)
    {
        var start = new PointMm(area.X + 8, area.Y + 8);
        Ruler(page, length, new Motion(1, 0, 0, 1, start.X, start.Y));
        var style = TextStyle.Strong;
        page.Text(Should(words, length), new PointMm(start.X + length / 2, start.Y + 12), style, Align.Centre);
    }

    private static void Along(PdfSheet page, RectMm area, double length, CalibrationWords words)
    {
        var start = new PointMm(area.X + 8, area.Y + 8);
        Ruler(page, length, new Motion(0, 1, 1, 0, start.X, start.Y));
        using var turned = page.Moved(Motion.Turn(90, new PointMm(start.X + 12, start.Y + length / 2)));
        page.Text(Should(words, length), new PointMm(start.X + 12, start.Y + length / 2), TextStyle.Strong, Align.Centre);
    }

    private static string Should(CalibrationWords words, double length) =>
        string.Format(CultureInfo.InvariantCulture, words.ShouldBe, length);

    /// <summary>A line with an arrow tip at each end, and marks each millimetre on one side.</summary>
    private static void Ruler(PdfSheet page, double length, Motion to)
    {
        var stroke = new Stroke(0.12, Ink.Black);
        page.Line(to.Apply(new PointMm(0, 0)), to.Apply(new PointMm(length, 0)), stroke);
        foreach (var (tip, side) in new[] { (0d, 1d), (length, -1d) })
        {
            page.Line(to.Apply(new PointMm(tip, -3)), to.Apply(new PointMm(tip, 6)), stroke);
            page.Line(to.Apply(new PointMm(tip, 0)), to.Apply(new PointMm(tip + side * 3, -1)), stroke);
            page.Line(to.Apply(new PointMm(tip, 0)), to.Apply(new PointMm(tip + side * 3, 1)), stroke);
        }
        for (var mm = 1; mm < length; mm++)
            page.Line(
                to.Apply(new PointMm(mm, 0)),
                to.Apply(
                    new PointMm(
                        mm,
                        mm % 10 == 0 ? 4
                            : mm % 5 == 0 ? 3
                            : 1.8
                    )
                ),
                new Stroke(0.08, Ink.Black)
            );
        for (var mm = 10; mm < length - 4; mm += 10)
            page.Text(
                mm.ToString(CultureInfo.InvariantCulture),
                to.Apply(new PointMm(mm + (to.Xx > 0 ? 0 : 0.8), to.Xx > 0 ? 6.6 : 6.4)),
                new TextStyle(TypeFace.Regular, 5.5, Ink.Black),
                Align.Centre
            );
    }

    private static void Text(PdfSheet page, SheetArea rooms, PrinterFacts printer, string title, CalibrationWords words)
    {
        var box = rooms.Area.Inside(new InsetsMm(26, 30, 8, 8));
        var y = box.Y;
        y += page.TextBlock(title, box with { Y = y }, TextStyle.Title.At(14)) + 3;
        y += page.TextBlock(words.Steps, box with { Y = y }, TextStyle.Body) + 3;
        var correction = string.Format(CultureInfo.InvariantCulture, words.Correction, printer.CorrectionX, printer.CorrectionY);
        y += page.TextBlock(correction, box with { Y = y }, TextStyle.Body) + 1;
        page.TextBlock(words.Reads, box with { Y = y }, TextStyle.Strong);
    }
}
