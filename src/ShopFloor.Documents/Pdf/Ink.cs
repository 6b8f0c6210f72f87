using PdfSharp.Drawing;

namespace ShopFloor.Documents.Pdf;

/// <summary>An sRGB colour for lines, areas and text.</summary>
public readonly record struct Ink(byte Red, byte Green, byte Blue)
{
    /// <summary>Full black: all that a machine or a tired eye must read.</summary>
    public static Ink Black => new(0, 0, 0);

    /// <summary>White.</summary>
    public static Ink White => new(255, 255, 255);

    /// <summary>Quiet text; 7:1 on white.</summary>
    public static Ink Quiet => new(84, 84, 84);

    /// <summary>Hairlines and rules.</summary>
    public static Ink Rule => new(170, 170, 170);

    /// <summary>Ground of headings and every second row.</summary>
    public static Ink Wash => new(240, 240, 240);

    internal XColor ToColor() => XColor.FromArgb(Red, Green, Blue);

    internal XSolidBrush ToBrush() => new(ToColor());
}

/// <summary>How a line is drawn.</summary>
/// <param name="WidthMm">Width in millimetres.</param>
/// <param name="Ink">Colour.</param>
/// <param name="DashMm">Length of dashes and gaps in millimetres; 0 for an unbroken line.</param>
public readonly record struct Stroke(double WidthMm, Ink Ink, double DashMm = 0)
{
    /// <summary>A fine black line, 0.25 mm.</summary>
    public static Stroke Fine => new(0.25, Ink.Black);

    /// <summary>A grey hairline, 0.15 mm.</summary>
    public static Stroke Hair => new(0.15, Ink.Rule);

    internal XPen ToPen()
    {
        var width = PdfUnit.Points(WidthMm);
        var pen = new XPen(Ink.ToColor(), width);
        if (DashMm > 0)
            pen.DashPattern = [PdfUnit.Points(DashMm) / width, PdfUnit.Points(DashMm) / width];
        return pen;
    }
}
