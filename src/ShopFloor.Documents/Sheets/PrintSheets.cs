using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Sheets;

/// <summary>The words on a print sheet.</summary>
public sealed record SheetWords
{
    /// <summary>On sheets that are printed mirrored.</summary>
    public string ReadsBackwards { get; init; } = "THIS LINE MUST READ BACKWARDS ON PAPER";

    /// <summary>On sheets that are printed straight.</summary>
    public string ReadsForwards { get; init; } = "THIS LINE MUST READ FORWARDS ON PAPER";

    /// <summary>Sheet number, number of sheets, paper.</summary>
    public string SheetOf { get; init; } = "sheet {0} of {1} · {2}";

    /// <summary>Beside the bar in the foot.</summary>
    public string Bar { get; init; } = "The bar is 50 mm long. If not: print at 100 %, without fitting to the page.";
}

/// <summary>What a run says about itself on each sheet.</summary>
/// <param name="Title">Such as the session or the day.</param>
/// <param name="Number">Number of the run; stays the same when it is printed again.</param>
/// <param name="Made">When, as it shall be read.</param>
/// <param name="MadeAtUtc">When, for the file.</param>
public sealed record RunLabel(string Title, string Number, string Made, DateTime MadeAtUtc);

/// <summary>Draws a planned run.</summary>
public static class PrintSheets
{
    private const double MarkMm = 3;
    private const double BarMm = 50;

    /// <summary>One page a sheet.</summary>
    public static PdfPaper Draw(PrintRun run, RunLabel label, SheetWords? words = null)
    {
        var paper = new PdfPaper(new PaperFacts(label.Title, label.MadeAtUtc));
        foreach (var sheet in run.Sheets)
            Draw(paper.AddSheet(sheet.Size), sheet, run.Printer, label, words ?? new SheetWords());
        return paper;
    }

    private static void Draw(PdfSheet page, PlannedSheet sheet, PrinterFacts printer, RunLabel label, SheetWords words)
    {
        var rooms = SheetArea.Of(sheet.Size, printer);
        using var mirroredBack = printer.DriverMirrors ? page.Moved(Motion.MirrorAbout(sheet.Size.Width / 2)) : null;
        using var corrected = page.Moved(Correction(printer, rooms));
        Head(page, rooms.Head, sheet, label, words);
        Foot(page, rooms.Foot, words);
        Marks(page, rooms);
        foreach (var placed in sheet.Cells)
        {
            using var here = page.Moved(placed.Motion);
            placed.Cell.Draw(page);
        }
    }

    internal static Motion Correction(PrinterFacts printer, SheetArea rooms) =>
        Motion.Stretch(printer.CorrectionX, printer.CorrectionY, new PointMm(rooms.Printable.X, rooms.Printable.Y));

    private static void Head(PdfSheet page, RectMm head, PlannedSheet sheet, RunLabel label, SheetWords words)
    {
        var inner = head.Inside(new InsetsMm(MarkMm + 2, 0, MarkMm + 2, 0));
        var title = new TextStyle(TypeFace.Bold, 9, Ink.Black);
        var detail = new TextStyle(TypeFace.Regular, 7, Ink.Quiet);
        var name = title.Cut(sheet.Group.Length > 0 ? $"{label.Title} · {sheet.Group}" : label.Title, inner.Width * 0.6);
        page.Text(name, new PointMm(inner.X, inner.Y + 3.6), title);
        var at = inner.X + title.WidthMm(name) + 3;
        var of = string.Format(CultureInfo.InvariantCulture, words.SheetOf, sheet.Number, sheet.Of, sheet.Paper.Name);
        page.Text(detail.Cut($"{of} · {label.Number} · {label.Made}", inner.Right - at), new PointMm(at, inner.Y + 3.6), detail);
        CheckLine(page, inner, sheet.Mirrored ? words.ReadsBackwards : words.ReadsForwards, sheet.Mirrored);
    }

    /// <summary>Mirrored exactly as the pictures are: whatever the printer does to them, it does to this line.</summary>
    private static void CheckLine(PdfSheet page, RectMm inner, string words, bool mirrored)
    {
        var style = new TextStyle(TypeFace.SemiBold, 9, Ink.Black).Fitted(words, inner.Width, 4);
        using var mirror = mirrored ? page.Moved(Motion.MirrorAbout(inner.Middle.X)) : null;
        page.Text(words, new PointMm(inner.Middle.X, inner.Y + 8.6), style, Align.Centre);
    }

    private static void Foot(PdfSheet page, RectMm foot, SheetWords words)
    {
        var left = foot.X + MarkMm + 2;
        var y = foot.Bottom - 1.5;
        var stroke = new Stroke(0.2, Ink.Black);
        var bar = Math.Min(BarMm, foot.Width - 2 * (MarkMm + 2));
        if (bar < BarMm)
            return;
        page.Line(new PointMm(left, y), new PointMm(left + bar, y), stroke);
        page.Line(new PointMm(left, y - 1.2), new PointMm(left, y + 1.2), stroke);
        page.Line(new PointMm(left + bar, y - 1.2), new PointMm(left + bar, y + 1.2), stroke);
        var small = new TextStyle(TypeFace.Regular, 6, Ink.Quiet);
        page.Text(small.Cut(words.Bar, foot.Right - left - bar - MarkMm - 4), new PointMm(left + bar + 2, y + 0.8), small);
    }

    /// <summary>A ring with a cross in each corner, to lay the sheet straight and to see whether it shrank.</summary>
    private static void Marks(PdfSheet page, SheetArea rooms)
    {
        var half = MarkMm / 2;
        foreach (var x in new[] { rooms.Head.X + half + 0.2, rooms.Head.Right - half - 0.2 })
        foreach (var y in new[] { rooms.Head.Y + half + 0.2, rooms.Foot.Bottom - half - 0.2 })
        {
            var stroke = new Stroke(0.12, Ink.Black);
            page.Line(new PointMm(x - half, y), new PointMm(x + half, y), stroke);
            page.Line(new PointMm(x, y - half), new PointMm(x, y + half), stroke);
            page.Shape(new Outline.Oval(new RectMm(x - half / 2, y - half / 2, half, half)), stroke);
        }
    }
}
