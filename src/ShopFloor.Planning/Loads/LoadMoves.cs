namespace ShopFloor.Planning.Loads;

/// <summary>The neighbourhoods: each proposes one random change, prices it, and makes it when the price is accepted.</summary>
internal sealed partial class LoadState
{
    private ReadOnlySpan<int> MembersOf(int b) => members[b].AsSpan(0, count[b]);

    private void Clear() => draftA.Used = draftB.Used = draftNew.Used = false;

    private bool Decide(long limit, bool roomA, bool roomB, bool roomNew)
    {
        var delta = Price(limit);
        if (delta > limit)
            return false;
        if ((roomA && !RoomFor(draftA)) || (roomB && !RoomFor(draftB)) || (roomNew && !RoomFor(draftNew)))
            return false;
        Apply(delta);
        return true;
    }

    /// <summary>Moves a job into a load that there is already.</summary>
    public bool JobIntoLoad(int j, int target, long limit)
    {
        var source = loadOf[j];
        if (target == source || family[target] != model.Family[j])
            return false;
        var o = oven[target];
        if (
            ((model.Eligible[j] >> o) & 1) == 0
            || size[target] + model.Size[j] > model.Capacity[o]
            || model.MinDwell[j] > longest[target]
            || model.MaxDwell[j] < dwell[target]
        )
            return false;
        Clear();
        draftA.Begin(source, oven[source], position[source], family[source]);
        draftA.AddAll(MembersOf(source), j);
        draftB.Begin(target, o, position[target], family[target]);
        draftB.AddAll(MembersOf(target));
        draftB.Add(j);
        return Decide(limit, false, true, false);
    }

    /// <summary>Moves a job into a load of its own.</summary>
    public bool JobIntoNew(int j, int o, int p, long limit)
    {
        var source = loadOf[j];
        if (count[source] == 1 && oven[source] == o && (position[source] == p || position[source] + 1 == p))
            return false;
        Clear();
        draftA.Begin(source, oven[source], position[source], family[source]);
        draftA.AddAll(MembersOf(source), j);
        draftNew.Begin(-1, o, p, model.Family[j]);
        draftNew.Add(j);
        return draftNew.Possible && Decide(limit, false, false, true);
    }

    /// <summary>Moves a load to another place.</summary>
    public bool MoveLoad(int b, int o, int p, long limit)
    {
        if (((ovens[b] >> o) & 1) == 0 || size[b] > model.Capacity[o])
            return false;
        if (oven[b] == o && (position[b] == p || position[b] + 1 == p))
            return false;
        Clear();
        draftA.Begin(b, oven[b], position[b], family[b]);
        draftNew.Begin(-1, o, p, family[b]);
        draftNew.AddAll(MembersOf(b));
        return Decide(limit, false, false, oven[b] != o);
    }

    /// <summary>Lets two loads change places.</summary>
    public bool SwapLoads(int a, int b, long limit)
    {
        if (a == b || ((ovens[a] >> oven[b]) & 1) == 0 || ((ovens[b] >> oven[a]) & 1) == 0)
            return false;
        if (size[a] > model.Capacity[oven[b]] || size[b] > model.Capacity[oven[a]])
            return false;
        Clear();
        draftA.Begin(a, oven[a], position[a], family[b]);
        draftA.AddAll(MembersOf(b));
        draftB.Begin(b, oven[b], position[b], family[a]);
        draftB.AddAll(MembersOf(a));
        var moved = oven[a] != oven[b];
        return Decide(limit, moved, moved, false);
    }

    /// <summary>Lets two jobs of one family change loads.</summary>
    public bool SwapJobs(int i, int j, long limit)
    {
        var (a, b) = (loadOf[i], loadOf[j]);
        if (a == b || family[a] != family[b])
            return false;
        if (((model.Eligible[i] >> oven[b]) & 1) == 0 || ((model.Eligible[j] >> oven[a]) & 1) == 0)
            return false;
        Clear();
        draftA.Begin(a, oven[a], position[a], family[a]);
        draftA.AddAll(MembersOf(a), i);
        draftA.Add(j);
        draftB.Begin(b, oven[b], position[b], family[b]);
        draftB.AddAll(MembersOf(b), j);
        draftB.Add(i);
        return draftA.Possible && draftB.Possible && Decide(limit, true, true, false);
    }

    /// <summary>Puts all jobs of one load into another.</summary>
    public bool Merge(int from, int into, long limit)
    {
        if (from == into || family[from] != family[into])
            return false;
        Clear();
        draftB.Begin(into, oven[into], position[into], family[into]);
        draftB.AddAll(MembersOf(into));
        draftB.AddAll(MembersOf(from));
        if (!draftB.Possible)
            return false;
        draftA.Begin(from, oven[from], position[from], family[from]);
        return Decide(limit, false, true, false);
    }

    /// <summary>Moves the jobs of a load that <paramref name="leave"/> names by bits of their places into a load of their own.</summary>
    public bool Split(int b, ulong leave, int o, int p, long limit)
    {
        Clear();
        draftA.Begin(b, oven[b], position[b], family[b]);
        draftNew.Begin(-1, o, p, family[b]);
        for (var k = 0; k < count[b]; k++)
            (((leave >> (k & 63)) & 1) != 0 ? draftNew : draftA).Add(members[b][k]);
        if (draftA.Count == 0 || draftNew.Count == 0 || !draftNew.Possible)
            return false;
        return Decide(limit, false, false, true);
    }
}
