namespace ShopFloor.Documents.Pdf;

/// <summary>A place on a page, in millimetres from its top left corner, y growing downwards.</summary>
public readonly record struct PointMm(double X, double Y);

/// <summary>A size in millimetres.</summary>
public readonly record struct SizeMm(double Width, double Height);

/// <summary>Distances from the four edges in millimetres.</summary>
public readonly record struct InsetsMm(double Left, double Top, double Right, double Bottom)
{
    /// <summary>The same distance on all sides.</summary>
    public static InsetsMm All(double distance) => new(distance, distance, distance, distance);
}

/// <summary>An upright box in millimetres, from its top left corner.</summary>
public readonly record struct RectMm(double X, double Y, double Width, double Height)
{
    /// <summary>Right edge.</summary>
    public double Right => X + Width;

    /// <summary>Lower edge.</summary>
    public double Bottom => Y + Height;

    /// <summary>Middle.</summary>
    public PointMm Middle => new(X + Width / 2, Y + Height / 2);

    /// <summary>The whole of a page.</summary>
    public static RectMm Of(SizeMm size) => new(0, 0, size.Width, size.Height);

    /// <summary>The box made smaller on its sides; larger where a distance is negative.</summary>
    public RectMm Inside(InsetsMm by) => new(X + by.Left, Y + by.Top, Width - by.Left - by.Right, Height - by.Top - by.Bottom);

    /// <summary>The box grown by the same distance on all sides.</summary>
    public RectMm Grown(double by) => Inside(InsetsMm.All(-by));

    /// <summary>True when the other box lies in this one, give or take a hundredth of a millimetre.</summary>
    public bool Holds(RectMm other) =>
        other.X >= X - 0.01 && other.Y >= Y - 0.01 && other.Right <= Right + 0.01 && other.Bottom <= Bottom + 0.01;

    /// <summary>True when the two boxes share an area.</summary>
    public bool Overlaps(RectMm other) =>
        other.X < Right - 1e-6 && X < other.Right - 1e-6 && other.Y < Bottom - 1e-6 && Y < other.Bottom - 1e-6;
}

/// <summary>Conversion to the PDF's own unit.</summary>
public static class PdfUnit
{
    /// <summary>PDF points in a millimetre: a point is 1/72 inch (ISO 32000), an inch is 25.4 mm.</summary>
    public const double PointsPerMm = 72 / 25.4;

    /// <summary>Millimetres to points.</summary>
    public static double Points(double mm) => mm * PointsPerMm;

    /// <summary>Points to millimetres.</summary>
    public static double Millimetres(double points) => points / PointsPerMm;
}
