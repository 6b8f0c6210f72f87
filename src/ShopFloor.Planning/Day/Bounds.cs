namespace ShopFloor.Planning.DayPlans;

/// <summary>What no plan of the day can go below, part by part, in points. Pieces that no plan can finish are left out of all of them;
/// a plan may leave out more, so bounds that sum over pieces are only used as far as leaving one out costs at least as much.</summary>
internal sealed class Bounds(Workroom room)
{
    private readonly Shop shop = room.Shop;

    public long[] Find()
    {
        var w = shop.Day.Weights;
        var loads = Loads(out var dwell);
        return
        [
            w.LeftOut * room.LeftOut.Count(l => l),
            0,
            0,
            0,
            w.OvenLoads * loads,
            w.OvenS * dwell,
            w.Shakes * Shakes(),
            w.SetPoints * SetPoints(),
            w.FinishS * Finish(),
            0,
        ];
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
            var count = Math.Max(Math.Max(ByArea(members), ByVapour(members)), Math.Max(ByWindows(members), BySamePiece(members)));
            total += count;
            // The longest of the shortest dwells is needed once, and each further load at least the shortest one.
            dwell += members.Max(n => n.Step.MinS) + ((count - 1) * members.Min(n => n.Step.MinS));
        }
        return total;
    }

    private long ByArea(List<Node> members)
    {
        var most = 0L;
        foreach (var place in shop.Heated.Where(h => h.IsOven))
        {
            var (margin, gap) = (2L * place.Station.MarginUm, (long)place.Station.GapUm);
            most = Math.Max(most, place.Oven!.Shelves.Sum(s => (s.WidthUm - margin + gap) * (s.DepthUm - margin + gap)));
        }
        var smallestGap = shop.Heated.Where(h => h.IsOven).Min(h => (long)h.Station.GapUm);
        var need = members.Sum(n => (shop.Pieces[n.Piece].WidthUm + smallestGap) * (shop.Pieces[n.Piece].DepthUm + smallestGap));
        return most <= 0 ? 1 : Math.Max(1, (need + most - 1) / most);
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
        foreach (var step in members.Select(n => n.Step).OrderBy(s => s.MaxS))
            if (step.MinS > last)
                (count, last) = (count + 1, step.MaxS ?? int.MaxValue);
        return count;
    }

    private static long BySamePiece(List<Node> members) => members.GroupBy(n => n.Piece).Max(g => (long)g.Count());

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

    /// <summary>The longest chain of one piece, and the people's work with what must come before and after it.</summary>
    private long Finish()
    {
        var most = 0L;
        for (var p = 0; p < shop.Pieces.Length; p++)
            if (!room.LeftOut[p] && shop.FirstNode[p] >= 0)
                most = Math.Max(most, Chain(p));
        foreach (var task in shop.Running.Tasks)
            if (task.Person is not null)
                most = Math.Max(most, task.EndS ?? 0);
        return Math.Max(most, Work());
    }

    private long Chain(int p)
    {
        var t = 0L;
        for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
        {
            var node = shop.Nodes[n];
            var given = node.Before < 0 && node.GivenEnd > int.MinValue ? node.GivenEnd : 0;
            var from = node.Before < 0 ? given : t;
            t = Math.Max(from + node.MinLag, node.Ready) + (node.IsHeated ? ShortestHeated(node) : node.Length);
        }
        return t;
    }

    private long ShortestHeated(Node node)
    {
        var best = long.MaxValue;
        foreach (var place in shop.Heated)
            if (place.IsOven == shop.Families[node.Family].IsLoad)
                best = Math.Min(
                    best,
                    place.Oven is { } o
                        ? o.LoadS + o.LoadEachS + o.UnloadS + o.UnloadEachS + node.Step.MinS
                        : place.Press!.LayUpS + place.Press.LayUpEachS + node.Step.MinS
                );
        return best == long.MaxValue ? 0 : best;
    }

    /// <summary>Seconds of attended work that no plan can spare, poured into everybody's shifts, overtime included.</summary>
    private long Work()
    {
        var work = 0L;
        foreach (var node in Alive())
            work += node.IsHeated ? EachHeated(node) : node.Length;
        work += Shakes() > 0 ? SparedShakes() : 0;
        if (work == 0 || shop.People.Length == 0)
            return 0;
        var tail = ShortestTail();
        return WhenDone(work - tail.Work) + tail.Length;
    }

    /// <summary>Per member only: how many share a load or session is not known.</summary>
    private long EachHeated(Node node)
    {
        var places = shop.Heated.Where(h => h.IsOven == shop.Families[node.Family].IsLoad);
        return places.Min(h => h.Oven is { } o ? o.LoadEachS + (long)o.UnloadEachS : h.Press!.LayUpEachS);
    }

    private long SparedShakes() =>
        Alive()
            .Where(n => n.IsSpray)
            .Select(n => n.Coating)
            .Distinct()
            .Where(c => !Array.Exists(shop.Running.Batches, b => b.Shake is not null))
            .Sum(c => (long)shop.Coatings[c].ShakeS);

    private static (long Work, long Length) ShortestTail() => (0, 0);

    private long WhenDone(long work)
    {
        var edges = shop
            .People.SelectMany(p => p.Shifts)
            .SelectMany(s => new[] { (Time: (long)Math.Max(0, s.FromS), Change: 1), (Time: (long)Math.Max(0, s.ToS), Change: -1) })
            .OrderBy(e => e.Time)
            .ToList();
        var (time, there, left) = (0L, 0L, work);
        foreach (var (at, change) in edges)
        {
            var done = there * (at - time);
            if (there > 0 && done >= left)
                return time + ((left + there - 1) / there);
            left -= done;
            (time, there) = (at, there + change);
        }
        // More work than there are shifts: something must be left out, and then nothing is known about the end.
        return 0;
    }
}
