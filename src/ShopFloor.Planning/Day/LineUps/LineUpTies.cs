namespace ShopFloor.Planning.DayPlans;

/// <summary>Keeps a line-up in an order in which every op stands behind those that it needs: moves an op with whatever must go with it.</summary>
internal sealed class LineUpTies(LineUpShop at)
{
    private readonly Shop shop = at.Shop;
    private readonly bool[] taken = new bool[at.Ops];
    private readonly int[] found = new int[at.Ops];
    private readonly int[] rest = new int[at.Ops];
    private int count;

    /// <summary>Moves an op to a place before its own, and with it all that it needs and that stands behind that place; false when one of
    /// them is <paramref name="anchor"/>, before which it should come to stand.</summary>
    public bool Earlier(LineUp line, int op, int to, int anchor = -1)
    {
        if (line.Position[op] < to)
            return true;
        Begin(op);
        for (var i = 0; i < count; i++)
        for (var k = 0; Before(line, found[i], k) is var before && before != End; k++)
            if (before >= 0 && !taken[before] && line.Position[before] >= to)
                Add(before);
        return Finish(line, to, anchor, false);
    }

    /// <summary>Moves an op to a place behind its own, and with it all that needs it and stands before that place.</summary>
    public bool Later(LineUp line, int op, int to, int anchor = -1)
    {
        if (line.Position[op] > to)
            return true;
        Begin(op);
        for (var i = 0; i < count; i++)
        for (var k = 0; After(line, found[i], k) is var after && after != End; k++)
            if (after >= 0 && !taken[after] && line.Position[after] <= to)
                Add(after);
        return Finish(line, to, anchor, true);
    }

    /// <summary>The last place before which an op may not come to stand: just behind all that it needs.</summary>
    public int Lowest(LineUp line, int op)
    {
        var low = 0;
        for (var k = 0; Before(line, op, k) is var before && before != End; k++)
            if (before >= 0)
                low = Math.Max(low, line.Position[before] + 1);
        return low;
    }

    /// <summary>The last place at which an op may stand: just before all that need it.</summary>
    public int Highest(LineUp line, int op)
    {
        var high = line.Count - 1;
        for (var k = 0; After(line, op, k) is var after && after != End; k++)
            if (after >= 0)
                high = Math.Min(high, line.Position[after] - 1);
        return high;
    }

    private void Begin(int op)
    {
        count = 0;
        Add(op);
    }

    private void Add(int op)
    {
        taken[op] = true;
        found[count++] = op;
    }

    private bool Finish(LineUp line, int to, int anchor, bool later)
    {
        var fits = anchor < 0 || !taken[anchor];
        if (fits)
            Rebuild(line, to, later);
        for (var i = 0; i < count; i++)
            taken[found[i]] = false;
        return fits;
    }

    /// <summary>Those that were found stand together at the place, in their old order.</summary>
    private void Rebuild(LineUp line, int to, bool later)
    {
        var (moved, others, sequence) = (0, 0, line.Sequence);
        var (first, last) = (to, to);
        for (var i = 0; i < count; i++)
        {
            first = Math.Min(first, line.Position[found[i]]);
            last = Math.Max(last, line.Position[found[i]]);
        }
        for (var i = first; i <= last; i++)
            if (taken[sequence[i]])
                found[moved++] = sequence[i];
            else
                rest[others++] = sequence[i];
        var at1 = first;
        if (later)
        {
            Array.Copy(rest, 0, sequence, at1, others);
            Array.Copy(found, 0, sequence, at1 + others, moved);
        }
        else
        {
            Array.Copy(found, 0, sequence, at1, moved);
            Array.Copy(rest, 0, sequence, at1 + moved, others);
        }
        for (var i = first; i <= last; i++)
            line.Position[sequence[i]] = i;
    }

    /// <summary>No more.</summary>
    private const int End = -2;

    /// <summary>What an op needs, one after another; -1: nothing in the line-up.</summary>
    private int Before(LineUp line, int op, int k)
    {
        if (at.IsUnload(op))
            return k == 0 ? op - 1 : End;
        if (at.IsGiven(op) || at.IsShake(op))
            return End;
        if (at.IsStep(op))
            return BeforeStep(line, op, k);
        var members = line.Batches[at.BatchAt(op)]!.Group.Nodes;
        for (var m = 0; m < members.Length; m++)
        {
            var more = shop.Nodes[members[m]].Before >= 0 ? 1 : shop.After[shop.Nodes[members[m]].Piece].Length;
            if (k < more)
                return BeforeStep(line, members[m], k);
            k -= more;
        }
        return End;
    }

    private int BeforeStep(LineUp line, int n, int k)
    {
        var node = shop.Nodes[n];
        if (node.IsSpray && line.HasShake(n) && k-- == 0)
            return at.ShakeOf(n);
        if (node.Before >= 0)
            return k == 0 ? line.EndOp(node.Before) : End;
        var after = shop.After[node.Piece];
        return k >= after.Length ? End
            : shop.LastNode[after[k]] is var last and >= 0 ? line.EndOp(last)
            : -1;
    }

    /// <summary>What needs an op, one after another.</summary>
    private int After(LineUp line, int op, int k)
    {
        if (at.IsGiven(op))
            return End;
        if (at.IsShake(op))
            return k == 0 ? at.SprayOf(op) : End;
        if (at.IsStep(op))
            return AfterStep(line, op, k);
        var batch = line.Batches[at.BatchAt(op)]!;
        if (batch.IsLoad && !at.IsUnload(op))
            return k == 0 ? op + 1 : End;
        var members = batch.Group.Nodes;
        for (var m = 0; m < members.Length; m++)
        {
            var more = shop.Nodes[members[m]].Next >= 0 ? 1 : at.Followers[shop.Nodes[members[m]].Piece].Count;
            if (k < more)
                return AfterStep(line, members[m], k);
            k -= more;
        }
        return End;
    }

    private int AfterStep(LineUp line, int n, int k)
    {
        var node = shop.Nodes[n];
        if (node.Next >= 0)
            return k == 0 ? line.StartOp(node.Next) : End;
        var followers = at.Followers[node.Piece];
        return k >= followers.Count ? End
            : shop.FirstNode[followers[k]] is var first and >= 0 && at.IsPlanned[followers[k]] ? line.StartOp(first)
            : -1;
    }
}
