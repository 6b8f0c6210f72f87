namespace ShopFloor.Planning.DayPlans;

/// <summary>Puts more pieces into what a decoder holds without moving anything that has a time already: into loads and sessions that
/// have room, into rounds, and else into the gaps.</summary>
internal sealed class Insertion(Shop shop, GroupMaker maker, Decoder decoder)
{
    /// <summary>So many loads or sessions with room are tried, earliest first.</summary>
    private const int MostJoins = 2;

    /// <summary>Larger bundles stay together: trying them one by one would take too long.</summary>
    private const int MostSingles = 4;

    /// <summary>Places the pieces; false when there is no time for some of them, and then nothing is placed.</summary>
    public bool Place(IReadOnlyList<int> pieces)
    {
        var state = decoder.Save();
        foreach (var p in pieces)
            if (Heated(shop.FirstNode[p]) < 0 && !decoder.PlaceMore(maker.Make([shop.LastNode[p]])!))
                return Undone(state, pieces);
        while (NextNodes(pieces) is { Count: > 0 } members)
            foreach (var bundle in Bundles(members))
                if (!PlaceBundle(bundle))
                    return Undone(state, pieces);
        return true;
    }

    private bool Undone(Decoder.Saved state, IReadOnlyList<int> pieces)
    {
        decoder.Back(state, pieces);
        return false;
    }

    private int Heated(int from)
    {
        for (var n = from; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].IsHeated && decoder.Start[n] < 0)
                return n;
        return -1;
    }

    /// <summary>The pieces' next steps in an oven or press, of one family.</summary>
    private List<int> NextNodes(IReadOnlyList<int> pieces)
    {
        var next = pieces.Select(p => Heated(shop.FirstNode[p])).Where(n => n >= 0).ToList();
        if (next.Count == 0)
            return next;
        var first = next.MinBy(n => (shop.Nodes[n].StepNumber, shop.Nodes[n].Family));
        return next.FindAll(n => shop.Nodes[n].Family == shop.Nodes[first].Family);
    }

    private List<int[]> Bundles(List<int> members)
    {
        var bundles = new List<int[]>();
        while (members.Count > 0)
        {
            var bundle = new List<int> { members[0] };
            foreach (var n in members.Skip(1))
            {
                bundle.Add(n);
                if (maker.Make(bundle.ToArray()) is null)
                    bundle.RemoveAt(bundle.Count - 1);
            }
            members.RemoveAll(bundle.Contains);
            bundles.Add([.. bundle]);
        }
        return bundles;
    }

    /// <summary>Takes the earliest of: all in one that is there, one of their own, or one by one.</summary>
    private bool PlaceBundle(int[] bundle)
    {
        var join = FindJoin(bundle, out var joinEnd);
        var own = maker.Make(bundle);
        var ownEnd = own is null ? Line.Never : Trial(own);
        if (join is null && bundle.Length is > 1 and <= MostSingles && SingleEnd(bundle) < ownEnd)
            return PlaceSingles(bundle);
        if (join is not null && joinEnd <= ownEnd)
            return decoder.PlaceMore(join);
        return ownEnd < Line.Never && decoder.PlaceMore(own!);
    }

    private int SingleEnd(int[] bundle)
    {
        var state = decoder.Save();
        var end = PlaceSingles(bundle) ? EndOf(bundle) : Line.Never;
        decoder.Back(state, PiecesOf(bundle));
        return end;
    }

    private bool PlaceSingles(int[] bundle) => Array.TrueForAll(bundle, n => PlaceBundle([n]));

    private List<int> PiecesOf(int[] bundle) => [.. bundle.Select(n => shop.Nodes[n].Piece)];

    private int Trial(Group group)
    {
        var state = decoder.Save();
        var end = decoder.PlaceMore(group) ? EndOf(group.Nodes) : Line.Never;
        decoder.Back(state, PiecesOf(group.Nodes));
        return end;
    }

    /// <summary>When the last of the pieces has got as far as it is placed.</summary>
    private int EndOf(int[] bundle)
    {
        var end = 0;
        foreach (var n in bundle)
            for (var m = n; m >= 0 && decoder.Start[m] >= 0; m = shop.Nodes[m].Next)
                end = Math.Max(end, decoder.End[m]);
        return end;
    }

    private Group? FindJoin(int[] bundle, out int end)
    {
        end = Line.Never;
        var soonest = bundle.Max(Soonest);
        var family = shop.Nodes[bundle[0]].Family;
        var tried = 0;
        var open = Enumerable
            .Range(0, decoder.Placed.Count)
            .Where(j => decoder.Placed[j].Start > soonest && decoder.Groups[decoder.Placed[j].Group].Family == family)
            .OrderBy(j => decoder.Placed[j].Start);
        foreach (var j in open)
        {
            if (Joined(bundle, j) is not { } group)
                continue;
            end = Trial(group);
            if (end < Line.Never)
                return group;
            if (++tried == MostJoins)
                return null;
        }
        return null;
    }

    /// <summary>Adds up the shortest times that lead to a step.</summary>
    private int Soonest(int n)
    {
        var t = 0;
        for (var m = n; m >= 0; m = shop.Nodes[m].Before)
        {
            t += shop.Nodes[m].MinLag;
            var before = shop.Nodes[m].Before;
            if (before < 0)
                return t + shop.Nodes[m].Ready;
            if (decoder.Start[before] >= 0)
                return t + decoder.End[before];
            t += shop.Nodes[before].Length;
        }
        return t;
    }

    private Group? Joined(int[] bundle, int j)
    {
        var placed = decoder.Placed[j];
        var dwell = (shop.Heated[placed.Place].IsOven ? placed.UnloadStart : placed.End) - placed.DwellStart;
        int[] all = [.. decoder.Groups[placed.Group].Nodes, .. bundle];
        var together = maker.Make(all);
        var at = together is null ? -1 : Array.IndexOf(together.Places, placed.Place);
        if (at < 0 || dwell < together!.DwellMin[at] || dwell > together.DwellMax)
            return null;
        return new Group
        {
            Family = together.Family,
            Nodes = bundle,
            Places = [placed.Place],
            DwellMin = [dwell],
            DwellMax = dwell,
            Joins = j,
        };
    }
}
