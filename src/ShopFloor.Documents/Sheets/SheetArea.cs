using ShopFloor.Documents.Pdf;

namespace ShopFloor.Documents.Sheets;

/// <summary>The rooms of a print sheet: head with title and check line, the area for transfers, foot with the check bar.</summary>
/// <param name="Printable">What the printer reaches.</param>
/// <param name="Head">Title and check line.</param>
/// <param name="Area">For transfers, in true millimetres, that is before the printer's correction.</param>
/// <param name="Foot">Check bar.</param>
public sealed record SheetArea(RectMm Printable, RectMm Head, RectMm Area, RectMm Foot)
{
    /// <summary>Height of the head.</summary>
    public const double HeadMm = 11;

    /// <summary>Height of the foot.</summary>
    public const double FootMm = 6;

    /// <summary>The rooms of a paper on a printer. Lengths are divided by the correction, because all that is drawn is stretched by it.</summary>
    public static SheetArea Of(SizeMm paper, PrinterFacts printer)
    {
        var printable = RectMm.Of(paper).Inside(printer.Unprintable);
        var (width, height) = (printable.Width / printer.CorrectionX, printable.Height / printer.CorrectionY);
        var (left, top) = (printable.X, printable.Y);
        return new SheetArea(
            printable,
            new RectMm(left, top, width, HeadMm),
            new RectMm(left, top + HeadMm, width, height - HeadMm - FootMm),
            new RectMm(left, top + height - FootMm, width, FootMm)
        );
    }

    /// <summary>Length of a piece of roll whose area is that high.</summary>
    public static double RollLength(double areaHeight, PrinterFacts printer) =>
        (areaHeight + HeadMm + FootMm) * printer.CorrectionY + printer.Unprintable.Top + printer.Unprintable.Bottom;
}
