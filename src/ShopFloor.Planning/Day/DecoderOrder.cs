namespace ShopFloor.Planning.DayPlans;

/// <summary>What must be placed before a block can be, and what follows it at once or at the end.</summary>
internal sealed partial class Decoder
{
    private bool PlaceWhatIsBefore(List<Op> ops, int id)
    {
        foreach (var op in ops)
        {
            if (op.Code >= 0)
            {
                if (!PlaceBefore(op.Code, id))
                    return false;
                continue;
            }
            foreach (var n in groups[~op.Code].Nodes)
                if (!Failed[nodes[n].Piece] && !PlaceBefore(n, id))
                    Fail(nodes[n].Piece);
            if (AllFailed(~op.Code))
                return false;
        }
        return true;
    }

    private bool PlaceBefore(int n, int id)
    {
        var node = nodes[n];
        if (node.Before < 0)
            return PlaceAfterPieces(node.Piece);
        if (Start[node.Before] >= 0 || blockMark[node.Before] == id)
            return true;
        return PlaceNode(node.Before);
    }

    private bool PlaceNode(int n)
    {
        if (Start[n] >= 0)
            return true;
        var g = groupOf[n];
        if (g >= 0 && groupState[g] != Waiting)
            return groupState[g] == Done && Start[n] >= 0;
        return (g < 0 && IsLoose(n) ? PlaceLoose(n) : PlaceBlock(g >= 0 ? ~g : n)) && Start[n] >= 0;
    }

    /// <summary>Whether a step is a block by itself: nothing before or behind it must follow within a longest wait.</summary>
    private bool IsLoose(int n) =>
        nodes[n] is { IsTight: false, PinnedAt: < 0, PinnedNotBefore: 0, PinnedStation: < 0, IsHeated: false, IsSpray: false } node
        && (node.Next < 0 || !nodes[node.Next].IsTight);

    /// <summary>What a block of one step comes to, without the making of a block.</summary>
    private bool PlaceLoose(int n)
    {
        if (busy[n] || depth >= DeepestChain)
            return false;
        busy[n] = true;
        depth++;
        release[n] = 0;
        var placed = PlaceBefore(n, ++blockCount) && !Failed[nodes[n].Piece] && TryBench(n) < 0;
        if (!placed)
            Fail(nodes[n].Piece);
        else if (!finishLast)
            Finish(n);
        (busy[n], depth) = (false, depth - 1);
        return placed;
    }

    private bool PlaceAfterPieces(int piece)
    {
        foreach (var other in shop.After[piece])
        {
            if (shop.LastNode[other] < 0)
                continue;
            if (Failed[other] || !PlaceRoute(other))
                return false;
        }
        return true;
    }

    /// <summary>Places a whole piece, because another waits for it.</summary>
    private bool PlaceRoute(int piece)
    {
        for (var n = shop.FirstNode[piece]; n >= 0; n = nodes[n].Next)
            if (!PlaceNode(n))
                return false;
        return true;
    }

    /// <summary>What remains of a piece that meets no oven or press any more follows at once.</summary>
    private void PlaceWhatFollows(List<Op> ops)
    {
        if (finishLast)
            return;
        foreach (var op in ops)
        {
            if (op.Code >= 0)
                Finish(op.Code);
            else
                foreach (var n in groups[~op.Code].Nodes)
                    if (!Failed[nodes[n].Piece])
                        Finish(n);
        }
    }

    /// <summary>The same for all pieces at the end, in the order in which they come out.</summary>
    private void FinishAll()
    {
        var open = new List<(int End, int Node)>();
        for (var n = 0; n < nodes.Length; n++)
            if (Start[n] >= 0 && nodes[n].Next >= 0 && Start[nodes[n].Next] < 0 && !Failed[nodes[n].Piece])
                open.Add((End[n], n));
        open.Sort();
        foreach (var (_, n) in open)
            Finish(n);
    }

    private void Finish(int n)
    {
        var next = nodes[n].Next;
        if (next < 0 || Start[next] >= 0)
            return;
        for (var m = next; m >= 0; m = nodes[m].Next)
            if (nodes[m].IsHeated || (groupOf[m] >= 0 && groupState[groupOf[m]] == InProgress))
                return;
        for (var m = next; m >= 0; m = nodes[m].Next)
            if (!PlaceNode(m))
            {
                Fail(nodes[m].Piece);
                return;
            }
    }
}
