namespace ShopFloor.Planning.DayPlans;

/// <summary>Booths, ovens and presses: what must not overlap there, how long a shake lasts, and changes of set points.</summary>
internal sealed partial class LineUpTimes
{
    /// <summary>A shake by itself: once the booth is free.</summary>
    private bool PlaceShake(int op)
    {
        var before = stationBefore[op];
        return PlaceInBooth(
            op,
            Math.Max(Math.Max(bound[op], PersonFree(op)), before >= 0 ? End[before] : at.BoothFrom[line.Booth[at.SprayOf(op)]]),
            0
        );
    }

    /// <summary>A spray whose shake is an op by itself.</summary>
    private bool PlaceShaken(int n, int from, int shake)
    {
        if (stationBefore[n] != shake || line.Person[shake] != line.Person[n])
            return false;
        IsShaken[n] = true;
        if (!PlaceInBooth(n, Math.Max(from, Math.Max(End[shake], PersonFree(n))), 0))
            return false;
        if (Start[n] - End[shake] > shop.Coatings[nodes[n].Coating].ShakeAgainAfterS)
            Push(shake, Start[n] - shop.Coatings[nodes[n].Coating].ShakeAgainAfterS);
        return true;
    }

    private bool PlaceSpray(int n, int from)
    {
        if (line.HasShake(n))
            return PlaceShaken(n, from, at.ShakeOf(n));
        var (node, before) = (nodes[n], stationBefore[n]);
        var coating = shop.Coatings[node.Coating];
        var free = before >= 0 ? End[before] : at.BoothFrom[line.Booth[n]];
        IsShaken[n] = true;
        if (
            before >= 0
            && before < steps
            && nodes[before].Coating == node.Coating
            && line.Can[before] == line.Can[n]
            && line.Person[before] == line.Person[n]
        )
        {
            if (!PlaceInBooth(n, Math.Max(from, Math.Max(free, PersonFree(n))), 0))
                return false;
            IsShaken[n] = Start[n] - free > coating.ShakeAgainAfterS;
            if (IsShaken[n] && line.Joins[n] && PushForJoin(before, Start[n] - coating.ShakeAgainAfterS, n))
                IsShaken[n] = false;
            if (!IsShaken[n])
                return true;
        }
        return PlaceInBooth(n, Math.Max(from, Math.Max(free, PersonFree(n)) + coating.ShakeS), coating.ShakeS);
    }

    private bool PlaceInBooth(int n, int from, int lead)
    {
        while (true)
        {
            if (!PlaceAt(n, from, lead, at.Length[n]))
                return false;
            var clash = false;
            foreach (var (begin, end) in boothDown[line.Booth[n < steps ? n : at.SprayOf(n)]])
                if (begin < End[n] && end > Start[n] - lead)
                    (from, clash) = (end + lead, true);
            if (!clash)
                return true;
        }
    }

    /// <summary>Pushes a spray for the next of its round, unless it cannot come so late, or coming later it has pushed that one before.</summary>
    private bool PushForJoin(int op, int end, int next)
    {
        if (end - at.Length[op] > at.Latest[op] || ++joinPushes[next] > mostPushes)
            return false;
        Push(op, end);
        return true;
    }

    private bool PlaceBatch(int op)
    {
        var batch = line.Batches[at.BatchAt(op)]!;
        return at.IsUnload(op) ? PlaceUnload(op, batch) : PlaceIn(op, batch);
    }

    private bool PlaceIn(int op, LineBatch batch)
    {
        var from = Math.Max(bound[op], PersonFree(op));
        var latest = int.MaxValue;
        foreach (var n in batch.Group.Nodes)
        {
            var node = nodes[n];
            from = Math.Max(
                from,
                Math.Max(at.Earliest[n], node.Before >= 0 ? End[line.EndOp(node.Before)] + node.MinLag : AfterPieces(node.Piece))
            );
            latest = Math.Min(latest, at.Latest[n]);
        }
        var (before, held, free) = (stationBefore[op], at.HeatedFrom[batch.Place].TenthsC, at.HeatedFrom[batch.Place].From);
        if (before >= 0)
            (held, free) = (line.Batches[at.BatchAt(before)]!.TenthsC, End[before]);
        var change = held == batch.TenthsC ? 0 : shop.Heated[batch.Place].ChangeS(held, batch.TenthsC);
        from = Math.Max(from, free + change);
        if (!PlaceHeated(op, batch, from, change) || Start[op] > latest)
            return false;
        foreach (var n in batch.Group.Nodes)
            if (nodes[n] is { IsTight: true, Before: >= 0 } node && End[line.EndOp(node.Before)] < Start[op] - node.MaxLag)
                Push(line.EndOp(node.Before), Start[op] - node.MaxLag);
        return true;
    }

    private bool PlaceHeated(int op, LineBatch batch, int from, int change)
    {
        var stays = batch.IsLoad ? batch.DwellMin + batch.OutS : 0;
        while (true)
        {
            if (!PlaceAt(op, from, 0, batch.InS))
                return false;
            var clash = false;
            foreach (var (begin, end) in down[batch.Place])
                if (begin < End[op] + stays && end > Start[op] - change)
                    (from, clash) = (end + change, true);
            if (!clash)
                return true;
        }
    }

    private bool PlaceUnload(int op, LineBatch batch)
    {
        var load = op - 1;
        if (!PlaceAt(op, Math.Max(Math.Max(bound[op], End[load] + batch.DwellMin), PersonFree(op)), 0, batch.OutS))
            return false;
        if (Start[op] - batch.DwellMax > End[load])
            Push(load, Start[op] - batch.DwellMax);
        foreach (var (begin, end) in down[batch.Place])
            if (begin < End[op] && end > Start[load])
                Push(load, end + batch.InS);
        return true;
    }
}
