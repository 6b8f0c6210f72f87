namespace ShopFloor.Planning.DayPlans;

/// <summary>How many loads or sessions the steps of one family need at least: by area, vapour, thickness, windows that do not meet, and
/// because a piece is not twice in one.</summary>
internal sealed class FamilyNeed(Shop shop)
{
    /// <summary>At least so many, 1 or more.</summary>
    /// <param name="steps">Steps of one family, at least one.</param>
    public long Count(IEnumerable<Node> steps)
    {
        var members = steps.ToList();
        var most = Math.Max(ByArea(members), Math.Max(ByWindows(members), BySamePiece(members)));
        return Math.Max(most, shop.Families[members[0].Family].IsLoad ? ByVapour(members) : ByThickness(members));
    }

    /// <summary>
    /// Seconds that the loads of one family dwell together at least. The loads that dwell longest hold no more than their area, so some
    /// piece beyond that area, counted from the longest on, is in a shorter one (R. Uzsoy, Int. J. Production Research 32, 1994; from
    /// memory).
    /// </summary>
    /// <param name="steps">Steps of one family, at least one.</param>
    public long Dwell(IEnumerable<Node> steps)
    {
        var members = steps.OrderByDescending(n => n.Step.MinS).ToList();
        var (most, areas) = Areas(members);
        var (dwell, loads, held) = (0L, 0L, 0L);
        for (var at = 0; at < members.Count; at++)
        {
            held += areas[at];
            for (; loads == 0 || (most > 0 && held > loads * most); loads++)
                dwell += members[at].Step.MinS;
        }
        return dwell + (Math.Max(0, Count(members) - loads) * members[^1].Step.MinS);
    }

    private long ByArea(List<Node> members)
    {
        var (most, areas) = Areas(members);
        return most <= 0 ? 1 : Math.Max(1, (areas.Sum() + most - 1) / most);
    }

    // The room of the largest station, and what each step takes of it.
    private (long Most, long[] Areas) Areas(List<Node> members)
    {
        var places = shop.Heated.Where(h => h.IsOven == shop.Families[members[0].Family].IsLoad).ToList();
        var gap = places.Min(h => (long)h.Station.GapUm);
        return (places.Max(Area), [.. members.Select(n => (shop.Pieces[n.Piece].WidthUm + gap) * (shop.Pieces[n.Piece].DepthUm + gap))]);
    }

    /// <summary>Room for footprints that are each a gap wider and deeper, in µm².</summary>
    private static long Area(HeatedPlace place)
    {
        var (margin, gap) = (2L * place.Station.MarginUm, (long)place.Station.GapUm);
        return place.Oven is { } oven
            ? oven.Shelves.Sum(s => (s.WidthUm - margin + gap) * (s.DepthUm - margin + gap))
            : (place.Press!.WidthUm - margin + gap) * (place.Press.DepthUm - margin + gap);
    }

    /// <summary>Thicknesses that no press takes together: stab them from the thinnest on.</summary>
    private long ByThickness(List<Node> members)
    {
        var tolerance = shop.Heated.Where(h => !h.IsOven).Max(h => h.Press!.ThicknessToleranceUm);
        var (count, thinnest) = (0L, -1L);
        foreach (var thickness in members.Select(n => shop.Pieces[n.Piece].ThicknessUm).Order())
            if (count == 0 || thickness > thinnest + tolerance)
                (count, thinnest) = (count + 1, thickness);
        return count;
    }

    private long ByVapour(List<Node> members)
    {
        var limits = shop.Heated.Where(h => h.IsOven).Select(h => h.Oven!.VapourLimitMg).ToList();
        if (limits.Exists(l => l is null or 0))
            return 1;
        var most = (long)limits.Max()!.Value;
        return Math.Max(1, (members.Sum(n => (long)n.Step.VapourMg) + most - 1) / most);
    }

    /// <summary>Windows that do not meet pairwise: stab them greedily by their ends.</summary>
    private static long ByWindows(List<Node> members)
    {
        var (count, last) = (0L, int.MinValue);
        foreach (var step in members.Select(n => n.Step).OrderBy(s => s.MaxS ?? int.MaxValue))
            if (step.MinS > last)
                (count, last) = (count + 1, step.MaxS ?? int.MaxValue);
        return count;
    }

    private static long BySamePiece(List<Node> members) => members.GroupBy(n => n.Piece).Max(g => (long)g.Count());
}
