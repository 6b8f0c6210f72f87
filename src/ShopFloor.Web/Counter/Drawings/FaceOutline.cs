using ShopFloor.Domain.Materials;

namespace ShopFloor.Web.Counter.Drawings;

/// <summary>Outlines of faces as SVG paths in millimetres, origin at the upper left corner of the face's box.</summary>
public static class FaceOutline
{
    /// <summary>The outline; the hole of a ring is a second figure in it (fill rule even-odd).</summary>
    /// <param name="shape">The shape.</param>
    /// <param name="wide">Width of the box, mm.</param>
    /// <param name="high">Height of the box, mm.</param>
    /// <param name="corner">Corner radius, mm.</param>
    /// <param name="hole">Diameter of a ring's hole, mm.</param>
    /// <param name="grow">Moves the outline outwards (bleed) or, below zero, inwards (safe area), mm.</param>
    public static string Path(FaceShape shape, double wide, double high, double corner = 0, double hole = 0, double grow = 0)
    {
        var (left, top, width, height) = (-grow, -grow, Math.Max(0, wide + 2 * grow), Math.Max(0, high + 2 * grow));
        return shape switch
        {
            FaceShape.Disc or FaceShape.Ellipse => Oval(wide / 2, high / 2, width / 2, height / 2),
            FaceShape.Ring => Oval(wide / 2, high / 2, width / 2, height / 2) + Hole(wide, high, hole - 2 * grow),
            FaceShape.RoundedRectangle => Rounded(
                left,
                top,
                width,
                height,
                Math.Max(0, Math.Min(corner + grow, Math.Min(width, height) / 2))
            ),
            FaceShape.Free => Free(left, top, width, height),
            _ => Text($"M{left:0.###} {top:0.###}h{width:0.###}v{height:0.###}h{-width:0.###}z"),
        };
    }

    private static string Hole(double wide, double high, double across) =>
        across > 0 ? Oval(wide / 2, high / 2, across / 2, across / 2) : "";

    private static string Oval(double x, double y, double rx, double ry) =>
        Text($"M{x - rx:0.###} {y:0.###}a{rx:0.###} {ry:0.###} 0 1 0 {2 * rx:0.###} 0a{rx:0.###} {ry:0.###} 0 1 0 {-2 * rx:0.###} 0z");

    private static string Rounded(double x, double y, double w, double h, double r) =>
        Text($"M{x + r:0.###} {y:0.###}h{w - 2 * r:0.###}a{r:0.###} {r:0.###} 0 0 1 {r:0.###} {r:0.###}v{h - 2 * r:0.###}")
        + Text($"a{r:0.###} {r:0.###} 0 0 1 {-r:0.###} {r:0.###}h{-(w - 2 * r):0.###}")
        + Text($"a{r:0.###} {r:0.###} 0 0 1 {-r:0.###} {-r:0.###}v{-(h - 2 * r):0.###}a{r:0.###} {r:0.###} 0 0 1 {r:0.###} {-r:0.###}z");

    /// <summary>Stands for any outline: nobody measures it here.</summary>
    private static string Free(double x, double y, double w, double h) =>
        Text(
            $"M{x + 0.15 * w:0.###} {y:0.###}C{x + 0.6 * w:0.###} {y:0.###} {x + w:0.###} {y + 0.1 * h:0.###} {x + w:0.###} {y + 0.45 * h:0.###}"
        )
        + Text($"S{x + 0.8 * w:0.###} {y + h:0.###} {x + 0.45 * w:0.###} {y + h:0.###}")
        + Text($"S{x:0.###} {y + 0.8 * h:0.###} {x:0.###} {y + 0.5 * h:0.###}S{x:0.###} {y:0.###} {x + 0.15 * w:0.###} {y:0.###}z");

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
