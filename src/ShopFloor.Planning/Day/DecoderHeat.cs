namespace ShopFloor.Planning.DayPlans;

/// <summary>A load or session as placed.</summary>
internal sealed record PlacedBatch(
    int Group,
    int Given,
    int Place,
    int Start,
    int DwellStart,
    int UnloadStart,
    int End,
    int LoadPerson,
    int UnloadPerson
);

/// <summary>Placing loads and sessions with their set points.</summary>
internal sealed partial class Decoder
{
    private readonly PlacedBatch?[] running;

    private readonly record struct HeatSpot(
        int Place,
        int ChangeStart,
        int Start,
        int UnloadStart,
        int End,
        int Dwell,
        int Person,
        int UnloadPerson
    );

    private int TryGroup(int g)
    {
        var group = groups[g];
        if (group.Joins >= 0)
            return TryJoin(g);
        var (from, latest, members) = (0, Line.Never, 0);
        foreach (var n in group.Nodes)
        {
            if (Failed[nodes[n].Piece])
                continue;
            from = Math.Max(from, Earliest(n));
            latest = Math.Min(latest, Latest(n));
            members++;
        }
        while (true)
        {
            var spot = Best(g, from, members);
            if (spot.Start > latest || spot.Start >= Line.Never)
                return spot.Start;
            var racked = RackFromAll(group, spot.End);
            if (racked > spot.End)
            {
                if (racked >= Line.Never)
                    return Line.Never;
                from = spot.Start + racked - spot.End;
                continue;
            }
            Put(g, spot);
            return -1;
        }
    }

    private HeatSpot Best(int g, int from, int members)
    {
        var group = groups[g];
        var best = new HeatSpot(-1, -1, Line.Never, Line.Never, Line.Never, 0, -1, -1);
        for (var i = 0; i < group.Places.Length; i++)
        {
            var spot = shop.Heated[group.Places[i]].IsOven ? FindLoad(group, i, from, members) : FindSession(group, i, from, members);
            if (spot.End < best.End)
                best = spot;
        }
        return best;
    }

    private HeatSpot FindLoad(Group group, int at, int from, int members)
    {
        var h = group.Places[at];
        var oven = shop.Heated[h].Oven!;
        var (load, unload) = (oven.LoadS + (members * oven.LoadEachS), oven.UnloadS + (members * oven.UnloadEachS));
        var dwell = group.DwellMin[at];
        var t = from;
        while (true)
        {
            t = Ready(h, t, load + dwell + unload, shop.Families[group.Family].TenthsC, out var change);
            if (t >= Line.Never)
                return Nowhere;
            var start = AnyPerson(Exchange.StationKind.Oven, t, load, out var person);
            if (start > t)
            {
                if (start >= Line.Never)
                    return Nowhere;
                t = start;
                continue;
            }
            var out1 = AnyPerson(Exchange.StationKind.Oven, t + load + dwell, unload, out var unloader);
            if (out1 >= Line.Never)
                return Nowhere;
            var longest = Add(t + load, group.DwellMax);
            if (out1 > longest)
                t += out1 - longest;
            else if (!heated[h].Taken.IsFree(t, out1 + unload))
                t = NextEnd(h, t, out1 + unload);
            else
                return new HeatSpot(h, change, t, out1, out1 + unload, out1 - t - load, person, unloader);
        }
    }

    private static readonly HeatSpot Nowhere = new(-1, -1, Line.Never, Line.Never, Line.Never, 0, -1, -1);

    /// <summary>Where the first thing that stands in the way ends.</summary>
    private int NextEnd(int h, int from, int to)
    {
        var line = heated[h].Taken;
        var free = line.Free(from, to - from);
        return free > from ? free : from + 1;
    }

    private HeatSpot FindSession(Group group, int at, int from, int members)
    {
        var h = group.Places[at];
        var press = shop.Heated[h].Press!;
        var length = press.LayUpS + (members * press.LayUpEachS) + group.DwellMin[at];
        var t = from;
        while (true)
        {
            t = Ready(h, t, length, shop.Families[group.Family].TenthsC, out var change);
            if (t >= Line.Never)
                return Nowhere;
            var start = AnyPerson(Exchange.StationKind.Press, t, length, out var person);
            if (start == t)
                return new HeatSpot(h, change, t, t + length, t + length, group.DwellMin[at], person, person);
            if (start >= Line.Never)
                return Nowhere;
            t = start;
        }
    }

    /// <summary>Who can begin first; of those who can at the same time, whoever has waited least, so that long gaps stay whole.</summary>
    private int AnyPerson(Exchange.StationKind kind, int from, int length, out int person)
    {
        var (best, idle) = (Line.Never, 0);
        person = -1;
        foreach (var p in shop.PeopleFor[(int)kind])
        {
            var t = people[p].Free(from, length, out var free);
            if (t > best || t >= Line.Never)
                continue;
            if (t < best || free < idle)
                (best, person, idle) = (t, p, free);
        }
        return best;
    }

    /// <summary>The earliest time at or after <paramref name="from"/> when the station is free for the span and at the temperature,
    /// and when a change must start for that (-1: none). Between what is already placed only a set point that is held there serves;
    /// changes are made behind everything.</summary>
    private int Ready(int h, int from, int length, int tenths, out int change)
    {
        var line = heated[h];
        change = -1;
        var t = from;
        while (true)
        {
            t = line.Taken.Free(t, length);
            if (t >= Line.Never)
                return Line.Never;
            var at = line.At(t);
            if (line.HeldBefore(at) == tenths)
                return t;
            if (at == line.Count)
                return ReadyBehind(h, t, length, tenths, out change);
            t = Math.Max(t + 1, line.EndAt(at));
        }
    }

    private int ReadyBehind(int h, int from, int length, int tenths, out int change)
    {
        var (line, place) = (heated[h], shop.Heated[h]);
        var needed = place.ChangeS(line.LastHeld, tenths);
        var earliest = line.LastEnd;
        var late = SharesAir(h);
        if (place.Oven is { } oven && tenths > oven.HotAboveTenthsC && line.LastHeld <= oven.HotAboveTenthsC)
            earliest = Math.Max(earliest, LastSprayBeside(h));
        var t = from;
        while (true)
        {
            t = line.Taken.Free(t, length);
            change = -1;
            if (t >= Line.Never)
                return Line.Never;
            change = late ? line.Taken.FreeLatest(earliest, t - needed, needed) : EarliestChange(line, earliest, t, needed);
            if (change >= 0)
                return t;
            var first = line.Taken.Free(earliest, needed);
            if (first >= Line.Never)
                return Line.Never;
            t = Math.Max(t + 1, first + needed);
        }
    }

    /// <summary>A change of set point is placed as early as can be, so that more of its temperature fits in behind it; a finished plan makes it
    /// as late as can be, so that nothing is kept hot for nothing. Ovens whose air a booth shares are heated late from the start.</summary>
    public void MakeChangesLate()
    {
        for (var h = 0; h < heated.Length; h++)
            if (!SharesAir(h))
                for (var i = heated[h].Count - 2; i >= 0; i--)
                    if (heated[h].IsChange(i) && !IsGiven(h, heated[h].StartAt(i)))
                        heated[h].MoveLater(i);
    }

    private bool SharesAir(int h) => Array.Exists(shop.SharedOvens, ovens => ovens.Contains(h));

    private bool IsGiven(int h, int start) =>
        Array.Exists(
            shop.Running.Tasks,
            t => t.Kind == Exchange.TaskKinds.SetPoint && t.Station == shop.Heated[h].Station.Id && t.StartS == start
        );

    private static int EarliestChange(HeatLine line, int earliest, int before, int needed) =>
        line.Taken.Free(earliest, needed) is var t && t + needed <= before ? t : -1;

    private int LastSprayBeside(int h)
    {
        var last = 0;
        for (var b = 0; b < booths.Length; b++)
            if (Array.IndexOf(shop.SharedOvens[b], h) >= 0)
                foreach (var round in rounds[b])
                    last = Math.Max(last, round.End);
        return last;
    }

    private void AddChange(int h, int from, int to, int tenths)
    {
        heated[h].Add(from, to, tenths, true, heated[h].HeldBefore(heated[h].At(from)));
        journal.Add(new Undo(UndoKind.Heat, h, from, 0, 0));
    }

    private void Put(int g, HeatSpot spot)
    {
        var (group, h) = (groups[g], spot.Place);
        var tenths = shop.Families[group.Family].TenthsC;
        if (spot.ChangeStart >= 0)
            AddChange(h, spot.ChangeStart, spot.ChangeStart + shop.Heated[h].ChangeS(heated[h].LastHeld, tenths), tenths);
        heated[h].Add(spot.Start, spot.End, tenths, false, tenths);
        journal.Add(new Undo(UndoKind.Heat, h, spot.Start, 0, 0));
        var dwellStart = shop.Heated[h].IsOven ? spot.UnloadStart - spot.Dwell : spot.End - spot.Dwell;
        if (shop.Heated[h].IsOven)
        {
            Take(people, PersonLines, spot.Person, spot.Start, dwellStart);
            Take(people, PersonLines, spot.UnloadPerson, spot.UnloadStart, spot.End);
        }
        else
            Take(people, PersonLines, spot.Person, spot.Start, spot.End);
        Placed.Add(new PlacedBatch(g, -1, h, spot.Start, dwellStart, spot.UnloadStart, spot.End, spot.Person, spot.UnloadPerson));
        journal.Add(new Undo(UndoKind.Batch, 0, 0, 0, 0));
        foreach (var n in group.Nodes)
            if (!Failed[nodes[n].Piece])
                Set(n, spot.Start, spot.End, spot.Person, h);
    }
}
