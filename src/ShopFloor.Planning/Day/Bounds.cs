namespace ShopFloor.Planning.DayPlans;

/// <summary>What no plan of the day can go below, part by part, in points. Pieces that no plan can finish are left out of all of them;
/// a plan may leave out more, so bounds that sum over pieces are only used as far as leaving one out costs at least as much.</summary>
internal sealed class Bounds(Workroom room)
{
    private readonly Shop shop = room.Shop;
    private readonly FamilyNeed needs = new(room.Shop);

    /// <summary>The bounds in the order of <see cref="Exchange.Objective.Names"/>.</summary>
    /// <param name="thorough">Whether to spend some ten milliseconds for 60 pieces on the finish.</param>
    /// <param name="keepPins">Only plans count that keep all pins: what is pinned to tomorrow cannot be done today.</param>
    public long[] Find(bool thorough, bool keepPins)
    {
        var w = shop.Day.Weights;
        var loads = Loads(out var dwell);
        var finish = new FinishBound(shop, room.LeftOut, needs, keepPins);
        var (late, latePieces) = Late(finish, out var spare);
        long[] parts =
        [
            w.LeftOut * room.LeftOut.Count(l => l),
            late,
            latePieces,
            0,
            w.OvenLoads * loads,
            w.OvenS * dwell,
            w.Shakes * Shakes(),
            w.SetPoints * SetPoints(),
            w.FinishS * Finish(finish, thorough),
            0,
        ];
        Cut(parts, spare);
        return parts;
    }

    /// <summary>Loads, shakes and the finish hold for plans that leave out nobody else. Whoever leaves one more out pays for the piece and saves what
    /// it would be late, so no more than the rest of that may stand here: the last parts give way first.</summary>
    private static void Cut(long[] parts, long most)
    {
        for (var i = OvertimePart; i < parts.Length; i++)
            (parts[i], most) = (Math.Min(parts[i], most), most - Math.Min(parts[i], most));
    }

    private static readonly int OvertimePart = Part("overtime_s");

    /// <summary>The same with what holds across parts. Where one load could take all of a family, either it does, and waits for the last of them,
    /// or there is a load more: the finish is later, or loads and dwell are more.</summary>
    /// <param name="keepPins">Only plans count that keep all pins.</param>
    public PartBounds FindAcross(bool keepPins)
    {
        var parts = Find(thorough: true, keepPins);
        var w = shop.Day.Weights;
        var single = Alive()
            .Where(n => n.IsHeated && shop.Families[n.Family].IsLoad)
            .GroupBy(n => n.Family)
            .Where(f => f.Count() > 1 && needs.Count(f) == 1)
            .ToDictionary(f => f.Key, f => f.Min(n => n.Step.MinS));
        if (single.Count == 0)
            return new PartBounds(parts, parts);
        var joined = new FinishBound(shop, room.LeftOut, needs, keepPins, [.. single.Keys]);
        var dwell = w.OvenS * single.Values.Min();
        var more = Math.Clamp((w.FinishS * Finish(joined, true)) - parts[FinishPart], 0, w.OvenLoads + dwell);
        // As far as leaving a piece out would not be less.
        Late(new FinishBound(shop, room.LeftOut, needs, keepPins), out var spare);
        more = Math.Clamp(spare - parts.Skip(OvertimePart).Sum(), 0, more);
        long[] together = [.. parts];
        long[] apart = [.. parts];
        together[FinishPart] += more;
        apart[LoadsPart] += Math.Min(more, w.OvenLoads);
        apart[DwellPart] += Math.Max(0, more - w.OvenLoads);
        return new PartBounds(together, apart);
    }

    private static readonly int LoadsPart = Part("oven_loads");
    private static readonly int DwellPart = Part("oven_s");
    private static readonly int FinishPart = Part("finish_s");

    private static int Part(string name) => Exchange.Objective.Names.ToList().IndexOf(name);

    /// <summary>What is late even if everything else made way for it, a piece never above what leaving it out costs.</summary>
    /// <param name="bound">When each piece can be finished at the earliest.</param>
    /// <param name="spare">What leaving a piece out costs beyond that, for the piece where it is least; without pieces, no limit.</param>
    private (long Seconds, long Pieces) Late(FinishBound bound, out long spare)
    {
        var w = shop.Day.Weights;
        var (seconds, pieces) = (0L, 0L);
        spare = long.MaxValue;
        foreach (var (piece, end) in bound.Ends())
        {
            var over = Math.Max(0L, (long)end - shop.Pieces[piece].PromiseS);
            var points = (long)Int128.Min(w.LeftOut, (Int128)over * shop.Pieces[piece].Weight * w.LateS);
            var late = over > 0 ? Math.Min(w.LeftOut - points, w.LatePieces) : 0;
            (seconds, pieces) = (seconds + points, pieces + late);
            spare = Math.Min(spare, w.LeftOut - points - late);
        }
        return (seconds, pieces);
    }

    private IEnumerable<Node> Alive() => shop.Nodes.Where(n => !room.LeftOut[n.Piece]);

    /// <summary>Loads per temperature: area, vapour, and windows that do not meet; running loads on top.</summary>
    private long Loads(out long dwell)
    {
        var running = shop.Running.Batches.Count(b => b.IsLoad);
        dwell = 0;
        var total = (long)running;
        foreach (var family in Alive().Where(n => n.IsHeated && shop.Families[n.Family].IsLoad).GroupBy(n => n.Family))
        {
            var members = family.ToList();
            total += needs.Count(members);
            dwell += needs.Dwell(members);
        }
        return total;
    }

    /// <summary>Each coating must be shaken once, and once for each can that one can cannot spare.</summary>
    private long Shakes()
    {
        var total = (long)shop.Running.Batches.Count(b => b.Shake is not null);
        foreach (var coating in Alive().Where(n => n.IsSpray).GroupBy(n => n.Coating))
        {
            var need = coating.Sum(n => (long)n.Step.Ul);
            var cans = 0L;
            foreach (var can in shop.Cans[coating.Key].OrderByDescending(c => c.LeftUl))
                if (need > 0)
                    (need, cans) = (need - can.LeftUl, cans + 1);
            // A round that runs and has no spray yet may serve; otherwise every spray needs a new shake.
            var served = shop.Running.Batches.Any(b => b.Shake is not null && b.Batch.Coating == shop.Coatings[coating.Key].Id);
            total += Math.Max(served ? 0 : 1, cans - (served ? 1 : 0));
        }
        return total;
    }

    /// <summary>A temperature that no station has needs a change.</summary>
    private long SetPoints()
    {
        var total = (long)shop.Running.Tasks.Count(t => t.ToTenthsC is { } to && to != shop.Day.RoomTenthsC);
        var needed = Alive()
            .Where(n => n.IsHeated)
            .Select(n => (shop.Families[n.Family].IsLoad, shop.Families[n.Family].TenthsC))
            .Distinct();
        foreach (var (oven, tenths) in needed)
            if (
                tenths != shop.Day.RoomTenthsC
                && !Array.Exists(shop.Heated, h => h.IsOven == oven && h.Station.Heat.NowTenthsC == tenths)
                && !Array.Exists(shop.Running.Tasks, t => t.ToTenthsC == tenths)
            )
                total++;
        return total;
    }

    /// <summary>Running work by hand, and what the steps still to come ask of people and stations.</summary>
    private long Finish(FinishBound bound, bool thorough)
    {
        var given = shop.Running.Tasks.Where(t => t.Person is not null).Select(t => (long)(t.EndS ?? 0)).DefaultIfEmpty().Max();
        return thorough ? bound.Find(given) : Math.Max(given, bound.LongestPiece());
    }
}
