namespace ShopFloor.Planning.DayPlans;

/// <summary>What a placed line-up costs: all of the objective that it decides about.</summary>
internal sealed class LineUpCost
{
    private readonly LineUpShop at;
    private readonly Shop shop;
    private readonly int[] pieces;
    private readonly int[] near;
    private double meanEnd;

    public LineUpCost(LineUpShop at)
    {
        (this.at, shop) = (at, at.Shop);
        pieces = [.. Enumerable.Range(0, shop.Pieces.Length).Where(p => at.IsPlanned[p] && shop.LastNode[p] >= 0)];
        near =
        [
            .. shop
                .Nodes.Where(n => at.IsPlanned[n.Piece] && shop.PublishedNear[n.Index].Start != Decoder.NotPublished)
                .Select(n => n.Index),
        ];
    }

    /// <summary>Half the mean end of the pieces and of all ops, as last summed up: of two line-ups that cost the same, the one in which more is
    /// done sooner is nearer to one that costs less, and it leaves more room for what goes wrong.</summary>
    public double Guide { get; private set; }

    /// <summary>The points of a line-up as last placed.</summary>
    public long Of(LineUp line, LineUpTimes times)
    {
        var all = 0L;
        var w = shop.Day.Weights;
        var (finish, overtime, dwell, loads, changes, shakes) = (0, 0L, 0L, 0, 0, 0);
        for (var i = 0; i < line.Count; i++)
        {
            var op = line.Sequence[i];
            var (start, end) = (times.Start[op], times.End[op]);
            finish = Math.Max(finish, end);
            all += end;
            if (at.IsStep(op))
            {
                if (shop.Nodes[op].IsSpray && times.IsShaken[op])
                    (shakes, start) = (shakes + 1, line.HasShake(op) ? start : start - shop.Coatings[shop.Nodes[op].Coating].ShakeS);
            }
            else if (at.IsUnload(op))
                (loads, dwell) = (loads + 1, dwell + start - times.End[op - 1]);
            else if (at.IsBatch(op) && Changes(line, times, op))
                changes++;
            overtime += Overtime(line.Person[op], start, end);
        }
        var late = Late(line, times);
        Guide = (meanEnd + (all / (double)Math.Max(1, line.Count))) / 2;
        return late
            + (w.OvertimeS * overtime)
            + (w.OvenLoads * loads)
            + (w.OvenS * dwell)
            + (w.Shakes * shakes)
            + (w.SetPoints * changes)
            + (w.FinishS * finish)
            + (w.Changed * Changed(line, times));
    }

    private bool Changes(LineUp line, LineUpTimes times, int op)
    {
        var (batch, before) = (line.Batches[at.BatchAt(op)]!, times.StationBefore[op]);
        var held = before < 0 ? at.HeatedFrom[batch.Place].TenthsC : line.Batches[at.BatchAt(before)]!.TenthsC;
        return held != batch.TenthsC && batch.TenthsC != shop.Day.RoomTenthsC;
    }

    private long Late(LineUp line, LineUpTimes times)
    {
        var (w, late, ends) = (shop.Day.Weights, 0L, 0L);
        foreach (var p in pieces)
        {
            var end = times.End[line.EndOp(shop.LastNode[p])];
            ends += end;
            if (end - (long)shop.Pieces[p].PromiseS is var over and > 0)
                late += (over * shop.Pieces[p].Weight * w.LateS) + w.LatePieces;
        }
        meanEnd = pieces.Length == 0 ? 0 : ends / (double)pieces.Length;
        return late;
    }

    private long Overtime(int person, int start, int end)
    {
        foreach (var (from, normalTo, to) in at.Shifts[person])
            if (end <= to)
                return end <= normalTo || start < from ? 0 : end - Math.Max(start, normalTo);
        return 0;
    }

    private long Changed(LineUp line, LineUpTimes times)
    {
        var count = 0L;
        foreach (var n in near)
        {
            var (start, station) = shop.PublishedNear[n];
            var moved = Math.Abs((long)times.Start[line.StartOp(n)] - start) > shop.Day.Published!.MovedS;
            if (moved || (line.BatchOf[n] >= 0 && shop.Heated[line.Batches[line.BatchOf[n]]!.Place].Station.Id != station))
                count++;
        }
        return count;
    }
}
