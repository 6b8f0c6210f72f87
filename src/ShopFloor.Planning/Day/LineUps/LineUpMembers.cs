namespace ShopFloor.Planning.DayPlans;

/// <summary>Changes of loads and sessions: their members, their number, their order and their stations.</summary>
internal sealed partial class LineUpMoves
{
    private LineBatch? Made(ReadOnlySpan<int> nodes, int place)
    {
        if (at.Room.Maker.Make(nodes) is not { } group)
            return null;
        var found = Array.IndexOf(group.Places, place);
        return new LineBatch(shop, group, found >= 0 ? found : random.Next(group.Places.Length));
    }

    private int[] UnitOf(int n) => at.Room.Units.Of(n).ToArray();

    /// <summary>A batch of the same family that is another one, near rather than far; or -1.</summary>
    private int OtherBatch(LineUp line, int batch)
    {
        var (family, found) = (line.Batches[batch]!.Group.Family, -1);
        var position = line.Position[at.LoadOp(batch)];
        for (var tries = 0; tries < 12; tries++)
        {
            var b = line.BatchOf[heatedNodes[random.Next(heatedNodes.Length)]];
            if (b == batch || line.Batches[b]!.Group.Family != family)
                continue;
            if (found < 0 || Math.Abs(line.Position[at.LoadOp(b)] - position) < Math.Abs(line.Position[at.LoadOp(found)] - position))
                found = b;
            if (random.Next(2) == 0)
                break;
        }
        return found;
    }

    /// <summary>Sees to it that what members need stands before their batch and what needs them behind it.</summary>
    private bool Settle(LineUp line, int batch, ReadOnlySpan<int> members)
    {
        var op = at.LoadOp(batch);
        foreach (var n in members)
        {
            var node = shop.Nodes[n];
            if (node.Before >= 0 && line.EndOp(node.Before) is var before && line.Position[before] > line.Position[op])
                if (
                    !(
                        random.Next(2) == 0
                            ? ties.Earlier(line, before, line.Position[op], op)
                            : ties.Later(line, op, line.Position[before], before)
                    )
                )
                    return false;
            if (
                node.Next >= 0
                && line.StartOp(node.Next) is var next
                && line.EndOp(n) is var end
                && line.Position[next] < line.Position[end]
            )
                if (
                    !(
                        random.Next(2) == 0
                            ? ties.Later(line, next, line.Position[end], end)
                            : ties.Earlier(line, end, line.Position[next], next)
                    )
                )
                    return false;
        }
        return true;
    }

    private bool MoveMember(LineUp line)
    {
        var n = heatedNodes[random.Next(heatedNodes.Length)];
        var from = line.BatchOf[n];
        var to = OtherBatch(line, from);
        return to >= 0 && Give(line, from, Array.FindAll(UnitOf(n), m => line.BatchOf[m] == from), to);
    }

    private bool Give(LineUp line, int from, int[] moved, int to)
    {
        var (source, target) = (line.Batches[from]!, line.Batches[to]!);
        if (Made([.. target.Group.Nodes, .. moved], target.Place) is not { } more)
            return false;
        int[] rest = [.. source.Group.Nodes.Except(moved)];
        LineBatch? less = null;
        if (rest.Length > 0 && (less = Made(rest, source.Place)) is null)
            return false;
        line.Fill(to, more);
        if (less is null)
            Remove(line, from);
        else
            line.Fill(from, less);
        if (!Settle(line, to, moved))
            return false;
        if (random.Next(4) > 0)
            Gather(line, moved);
        return true;
    }

    private void Remove(LineUp line, int batch)
    {
        if (line.Batches[batch]!.IsLoad)
            line.Remove(at.LoadOp(batch) + 1);
        line.Remove(at.LoadOp(batch));
        line.Batches[batch] = null;
    }

    private bool ExchangeMembers(LineUp line)
    {
        var n = heatedNodes[random.Next(heatedNodes.Length)];
        var a = line.BatchOf[n];
        var b = OtherBatch(line, a);
        if (b < 0)
            return false;
        var (one, other) = (line.Batches[a]!, line.Batches[b]!);
        int[] mine = Array.FindAll(UnitOf(n), m => line.BatchOf[m] == a);
        int[] theirs = Array.FindAll(UnitOf(other.Group.Nodes[random.Next(other.Group.Nodes.Length)]), m => line.BatchOf[m] == b);
        if (
            Made([.. one.Group.Nodes.Except(mine), .. theirs], one.Place) is not { } first
            || Made([.. other.Group.Nodes.Except(theirs), .. mine], other.Place) is not { } second
        )
            return false;
        line.Fill(a, first);
        line.Fill(b, second);
        if (!Settle(line, b, mine) || !Settle(line, a, theirs))
            return false;
        if (random.Next(4) > 0)
        {
            Gather(line, mine);
            Gather(line, theirs);
        }
        return true;
    }

    /// <summary>Some members get a batch of their own, right before or behind the one they leave.</summary>
    private bool Part(LineUp line)
    {
        var n = heatedNodes[random.Next(heatedNodes.Length)];
        var from = line.BatchOf[n];
        var source = line.Batches[from]!;
        var free = Array.IndexOf(line.Batches, null);
        if (free < 0 || source.Group.Nodes.Length < 2)
            return false;
        var share = random.Next(4);
        int[] moved =
        [
            .. UnitOf(n).Where(m => line.BatchOf[m] == from),
            .. source.Group.Nodes.Where(m => share > 0 && random.Next(4) < share),
        ];
        moved = [.. moved.SelectMany(UnitOf).Where(m => line.BatchOf[m] == from).Distinct()];
        int[] rest = [.. source.Group.Nodes.Except(moved)];
        if (rest.Length == 0 || Made(rest, source.Place) is not { } less || Made(moved, source.Place) is not { } own)
            return false;
        if (own.Group.Places.Length > 1 && random.Next(2) == 0)
            own = new LineBatch(shop, own.Group, random.Next(own.Group.Places.Length));
        line.Fill(from, less);
        line.Fill(free, own);
        var op = at.LoadOp(from);
        var last = own.IsLoad ? op + 1 : op;
        var behind = random.Next(2) == 0;
        var position = behind ? line.Position[last] + 1 : line.Position[op];
        line.Insert(at.LoadOp(free), position, line.Person[op]);
        if (own.IsLoad)
            line.Insert(at.LoadOp(free) + 1, position + 1, line.Person[last]);
        return Settle(line, free, moved);
    }

    private bool Merge(LineUp line)
    {
        var from = line.BatchOf[heatedNodes[random.Next(heatedNodes.Length)]];
        var to = OtherBatch(line, from);
        return to >= 0 && Give(line, from, line.Batches[from]!.Group.Nodes, to);
    }

    /// <summary>A batch goes before the one that stands before it at its station.</summary>
    private bool SwapBatches(LineUp line)
    {
        var batch = line.BatchOf[heatedNodes[random.Next(heatedNodes.Length)]];
        var op = at.LoadOp(batch);
        var before = stationBefore[op];
        if (before < 0 || !at.IsBatch(before))
            return false;
        var first = at.LoadOp(at.BatchAt(before));
        if (line.Position[first] < 0 || line.Position[first] > line.Position[op])
            return false;
        if (random.Next(2) == 0)
            return ties.Later(line, first, line.Position[line.Batches[batch]!.IsLoad ? op + 1 : op], op);
        return ties.Earlier(line, op, line.Position[first], first)
            && (
                !line.Batches[batch]!.IsLoad
                || line.Position[op + 1] < line.Position[first]
                || ties.Earlier(line, op + 1, line.Position[first], first)
            );
    }

    /// <summary>Another oven or press.</summary>
    private bool OtherPlace(LineUp line)
    {
        var b = line.BatchOf[heatedNodes[random.Next(heatedNodes.Length)]];
        var batch = line.Batches[b]!;
        if (batch.Group.Places.Length < 2)
            return false;
        line.Batches[b] = new LineBatch(shop, batch.Group, random.Next(batch.Group.Places.Length));
        return line.Batches[b]!.At != batch.At;
    }
}
