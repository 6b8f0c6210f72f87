namespace ShopFloor.Domain.Film;

/// <summary>Where a piece lies in the booth, seen from above; millimetres from any corner.</summary>
/// <param name="XMm">Left edge in mm.</param>
/// <param name="YMm">Upper edge in mm.</param>
/// <param name="WidthMm">Width in mm, above 0.</param>
/// <param name="HeightMm">Height in mm, above 0.</param>
public readonly record struct SprayedRectangle(double XMm, double YMm, double WidthMm, double HeightMm)
{
    /// <summary>Area in mm².</summary>
    public double AreaSquareMm => WidthMm * HeightMm;

    /// <summary>The same rectangle moved out by a margin on each side: what the fan sweeps.</summary>
    /// <param name="marginMm">Margin in mm, at least 0.</param>
    public SprayedRectangle GrownBy(double marginMm) =>
        new(XMm - marginMm, YMm - marginMm, WidthMm + (2 * marginMm), HeightMm + (2 * marginMm));

    /// <summary>
    /// Area in mm² covered by at least one of the rectangles: overlaps count once. Sweeps the strips between all left and right edges, so
    /// n rectangles cost about n² steps.
    /// </summary>
    public static double UnionSquareMm(IReadOnlyList<SprayedRectangle> rectangles)
    {
        double[] edges = [.. rectangles.SelectMany(r => new[] { r.XMm, r.XMm + r.WidthMm }).Distinct().Order()];
        SprayedRectangle[] byTop = [.. rectangles.OrderBy(r => r.YMm)];
        var area = 0.0;
        for (var i = 0; i + 1 < edges.Length; i++)
        {
            area += (edges[i + 1] - edges[i]) * CoveredHeightMm(byTop, edges[i], edges[i + 1]);
        }

        return area;
    }

    private static double CoveredHeightMm(SprayedRectangle[] byTop, double leftMm, double rightMm)
    {
        var covered = 0.0;
        var reach = double.NegativeInfinity;
        foreach (var r in byTop)
        {
            if (r.XMm > leftMm || r.XMm + r.WidthMm < rightMm)
            {
                continue;
            }

            var bottom = r.YMm + r.HeightMm;
            covered += Math.Max(0, bottom - Math.Max(reach, r.YMm));
            reach = Math.Max(reach, bottom);
        }

        return covered;
    }
}
