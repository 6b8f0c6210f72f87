using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>What of a plan's value depends on persons and times, from the times that a net has placed.</summary>
internal sealed class FineCost
{
    private readonly Shop shop;
    private readonly FineNet fine;
    private readonly int[] ends;
    private readonly List<(int Load, int Unload)> loads;
    private readonly List<(int Task, int Start)> published;

    public FineCost(Shop shop, FineNet fine)
    {
        (this.shop, this.fine) = (shop, fine);
        ends = [.. shop.LastNode.Select(n => n < 0 ? -1 : fine.Last[n])];
        var unloads = Tasks(TaskKinds.Unload).ToDictionary(t => fine.Source[t].Batch!, StringComparer.Ordinal);
        loads = [.. Tasks(TaskKinds.Load).Where(t => !fine.Net.Tasks[t].IsFixed).Select(t => (t, unloads[fine.Source[t].Batch!]))];
        published =
        [
            .. shop
                .Nodes.Select(n => (Task: fine.First[n.Index], shop.PublishedNear[n.Index].Start, shop.PublishedNear[n.Index].Station))
                .Where(x => x.Task >= 0 && x.Start != Decoder.NotPublished && x.Station == fine.Source[x.Task].Station)
                .Select(x => (x.Task, x.Start)),
        ];
    }

    private IEnumerable<int> Tasks(string kind) => Enumerable.Range(0, fine.Source.Length).Where(t => fine.Source[t].Kind == kind);

    /// <summary>The points of an order as last placed.</summary>
    public long Of(TimeOrder order)
    {
        var w = shop.Day.Weights;
        var (late, finish, overtime) = (0L, 0, 0L);
        for (var p = 0; p < ends.Length; p++)
            if (ends[p] >= 0 && fine.Net.End(ends[p]) - (long)shop.Pieces[p].PromiseS is var over and > 0)
                late += (over * shop.Pieces[p].Weight * w.LateS) + w.LatePieces;
        for (var t = 0; t < fine.Source.Length; t++)
        {
            finish = Math.Max(finish, fine.Net.End(t));
            overtime += order.Person[t] >= 0 ? Overtime(order.Person[t], fine.Net.Start[t], fine.Net.End(t)) : 0;
        }
        var dwell = loads.Sum(l => (long)fine.Net.Start[l.Unload] - fine.Net.End(l.Load));
        var changed = published.Count(x => Math.Abs((long)fine.Net.Start[x.Task] - x.Start) > shop.Day.Published!.MovedS);
        return late
            + (w.OvertimeS * overtime)
            + (w.OvenS * dwell)
            + (w.SetPoints * order.Changes)
            + (w.FinishS * finish)
            + (w.Changed * changed);
    }

    /// <summary>The mean end of the pieces, in seconds.</summary>
    public long MeanEnd()
    {
        var (sum, count) = (0L, 0);
        foreach (var t in ends)
            if (t >= 0)
                (sum, count) = (sum + fine.Net.End(t), count + 1);
        return count == 0 ? 0 : sum / count;
    }

    private long Overtime(int person, int from, int to)
    {
        var sum = 0L;
        foreach (var shift in shop.People[person].Shifts)
            if (shift.NormalToS < to && from < shift.ToS)
                sum += Math.Max(0, Math.Min(to, shift.ToS) - Math.Max(from, shift.NormalToS));
        return sum;
    }
}
