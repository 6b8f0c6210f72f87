namespace ShopFloor.Domain.Pictures;

/// <summary>A point, in pixels or millimetres, x to the right and y down.</summary>
/// <param name="X">To the right.</param>
/// <param name="Y">Down.</param>
public readonly record struct PlanePoint(double X, double Y);

/// <summary>Moves, turns, scales and mirrors points: x' = Xx·x + Xy·y + Dx, y' = Yx·x + Yy·y + Dy.</summary>
/// <param name="Xx">Share of x in x'.</param>
/// <param name="Xy">Share of y in x'.</param>
/// <param name="Dx">Shift of x'.</param>
/// <param name="Yx">Share of x in y'.</param>
/// <param name="Yy">Share of y in y'.</param>
/// <param name="Dy">Shift of y'.</param>
public readonly record struct PlaneTransform(double Xx, double Xy, double Dx, double Yx, double Yy, double Dy)
{
    /// <summary>Leaves points where they are.</summary>
    public static PlaneTransform None => new(1, 0, 0, 0, 1, 0);

    /// <summary>Moves.</summary>
    public static PlaneTransform Shift(double dx, double dy) => new(1, 0, dx, 0, 1, dy);

    /// <summary>Scales about the origin.</summary>
    public static PlaneTransform Scale(double factor) => new(factor, 0, 0, 0, factor, 0);

    /// <summary>True when left and right change places.</summary>
    public bool IsMirrored => (Xx * Yy) - (Xy * Yx) < 0;

    /// <summary>Where a point goes.</summary>
    public PlanePoint Apply(PlanePoint point) => new((Xx * point.X) + (Xy * point.Y) + Dx, (Yx * point.X) + (Yy * point.Y) + Dy);

    /// <summary>This first, then the other.</summary>
    public PlaneTransform Then(PlaneTransform next) =>
        new(
            (next.Xx * Xx) + (next.Xy * Yx),
            (next.Xx * Xy) + (next.Xy * Yy),
            (next.Xx * Dx) + (next.Xy * Dy) + next.Dx,
            (next.Yx * Xx) + (next.Yy * Yx),
            (next.Yx * Xy) + (next.Yy * Yy),
            (next.Yx * Dx) + (next.Yy * Dy) + next.Dy
        );
}
