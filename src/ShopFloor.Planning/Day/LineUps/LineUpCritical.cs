namespace ShopFloor.Planning.DayPlans;

/// <summary>The ops that the end of a line-up hangs on: from the last one back, each time to what it waits for longest.</summary>
internal sealed class LineUpCritical(LineUpShop at)
{
    private readonly Shop shop = at.Shop;
    private readonly int[] end = new int[at.Ops];
    private readonly int[] personBefore = new int[at.Ops];
    private readonly int[] stationBefore = new int[at.Ops];
    private readonly List<int> found = [];

    /// <summary>Looks at times from now on.</summary>
    public void LookAt(LineUpTimes times)
    {
        times.End.CopyTo(end, 0);
        times.PersonBefore.CopyTo(personBefore, 0);
        times.StationBefore.CopyTo(stationBefore, 0);
        found.Clear();
    }

    /// <summary>One of them.</summary>
    public int Any(LineUp line, SeededRandom random)
    {
        if (found.Count == 0)
            Find(line);
        return found[random.Next(found.Count)];
    }

    private void Find(LineUp line)
    {
        var op = line.Sequence[0];
        for (var i = 1; i < line.Count; i++)
            if (end[line.Sequence[i]] > end[op])
                op = line.Sequence[i];
        // Each waits for one before it; what runs may contradict that, and then the way back would have no end.
        for (; op >= 0 && found.Count < line.Count; op = HeldBy(line, op))
            found.Add(op);
    }

    private int HeldBy(LineUp line, int op)
    {
        var held = (Op: personBefore[op], At: personBefore[op] < 0 ? 0 : end[personBefore[op]]);
        if (at.IsUnload(op))
            Consider(ref held, op - 1, line.Batches[at.BatchAt(op)]!.DwellMin);
        else if (at.IsBatch(op))
            HeldBy(line, op, line.Batches[at.BatchAt(op)]!, ref held);
        else if (at.IsStep(op))
        {
            var node = shop.Nodes[op];
            if (node.Before >= 0)
                Consider(ref held, line.EndOp(node.Before), node.MinLag);
            if (node.IsSpray)
                Consider(ref held, stationBefore[op], 0);
        }
        else if (at.IsShake(op))
            Consider(ref held, stationBefore[op], 0);
        return held.Op;
    }

    private void HeldBy(LineUp line, int op, LineBatch batch, ref (int Op, int At) held)
    {
        foreach (var n in batch.Group.Nodes)
            if (shop.Nodes[n].Before is var before and >= 0)
                Consider(ref held, line.EndOp(before), shop.Nodes[n].MinLag);
        if (stationBefore[op] is not (var last and >= 0))
            return;
        var tenths = line.Batches[at.BatchAt(last)]!.TenthsC;
        Consider(ref held, last, tenths == batch.TenthsC ? 0 : shop.Heated[batch.Place].ChangeS(tenths, batch.TenthsC));
    }

    private void Consider(ref (int Op, int At) held, int op, int lag)
    {
        if (op >= 0 && end[op] + lag >= held.At)
            held = (op, end[op] + lag);
    }
}
