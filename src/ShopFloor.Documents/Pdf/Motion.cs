using PdfSharp.Drawing;

namespace ShopFloor.Documents.Pdf;

/// <summary>A move of everything drawn after it: x' = Xx·x + Yx·y + Dx, y' = Xy·x + Yy·y + Dy, in millimetres from the top left.</summary>
public readonly record struct Motion(double Xx, double Xy, double Yx, double Yy, double Dx, double Dy)
{
    /// <summary>Mirrors left to right about an upright line.</summary>
    public static Motion MirrorAbout(double xMm) => new(-1, 0, 0, 1, 2 * xMm, 0);

    /// <summary>Moves by a distance.</summary>
    public static Motion Shift(double dx, double dy) => new(1, 0, 0, 1, dx, dy);

    /// <summary>Stretches about a point that stays where it is.</summary>
    public static Motion Stretch(double byX, double byY, PointMm about) => new(byX, 0, 0, byY, about.X * (1 - byX), about.Y * (1 - byY));

    /// <summary>Turns clockwise as looked at, about a point that stays where it is.</summary>
    public static Motion Turn(double degrees, PointMm about)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return new(cos, sin, -sin, cos, about.X - cos * about.X + sin * about.Y, about.Y - sin * about.X - cos * about.Y);
    }

    /// <summary>This move followed by another.</summary>
    public Motion Then(Motion next) =>
        new(
            next.Xx * Xx + next.Yx * Xy,
            next.Xy * Xx + next.Yy * Xy,
            next.Xx * Yx + next.Yx * Yy,
            next.Xy * Yx + next.Yy * Yy,
            next.Xx * Dx + next.Yx * Dy + next.Dx,
            next.Xy * Dx + next.Yy * Dy + next.Dy
        );

    /// <summary>Where a point goes.</summary>
    public PointMm Apply(PointMm p) => new(Xx * p.X + Yx * p.Y + Dx, Xy * p.X + Yy * p.Y + Dy);

    internal XMatrix ToMatrix() => new(Xx, Xy, Yx, Yy, PdfUnit.Points(Dx), PdfUnit.Points(Dy));
}
