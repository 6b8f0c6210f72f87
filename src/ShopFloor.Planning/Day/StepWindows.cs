using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Between when each step must lie: not before what leads to it can be done, and early enough for what follows to be done in time.
/// Shifts, drying, longest waits and warming up count; who else needs the person or the station does not.</summary>
internal sealed class StepWindows
{
    private readonly Shop shop;
    private readonly bool[] leftOut;
    private readonly ShiftTimes shifts;
    private readonly bool keepPins;
    private readonly Handling?[] handlings;

    /// <summary>The windows of all steps.</summary>
    /// <param name="shop">The day.</param>
    /// <param name="leftOut">Pieces that do not count.</param>
    /// <param name="shifts">When somebody is there.</param>
    /// <param name="keepPins">Only plans count that keep all pins.</param>
    /// <param name="together">Families of which only plans count that have all in one load.</param>
    public StepWindows(Shop shop, bool[] leftOut, ShiftTimes shifts, bool keepPins, IReadOnlyList<int> together)
    {
        (this.shop, this.leftOut, this.shifts, this.keepPins) = (shop, leftOut, shifts, keepPins);
        handlings = [.. shop.Families.Select(f => Handling.Shortest(shop, f))];
        (Start, End, LatestEnd) = (new int[shop.Nodes.Length], new int[shop.Nodes.Length], new int[shop.Nodes.Length]);
        for (var p = 0; p < shop.Pieces.Length; p++)
            if (!leftOut[p] && shop.FirstNode[p] >= 0)
                Both(p);
        Join(together);
    }

    /// <summary>Earliest start of each step.</summary>
    public int[] Start { get; }

    /// <summary>Earliest end of each step.</summary>
    public int[] End { get; }

    /// <summary>Latest end of each step, by the last <see cref="EndBy"/>.</summary>
    public int[] LatestEnd { get; }

    /// <summary>Shortest times of loading and unloading of a family, or null when no station reaches it.</summary>
    public Handling? HandlingOf(int family) => handlings[family];

    /// <summary>Sets the latest ends for a day whose last attended work ends by a time; false when some piece cannot be done by then.</summary>
    public bool EndBy(int time)
    {
        for (var p = 0; p < shop.Pieces.Length; p++)
            if (!leftOut[p] && shop.FirstNode[p] >= 0 && !Backward(p, time))
                return false;
        return true;
    }

    private void Both(int piece)
    {
        Forward(piece);
        if (HoldBack(piece))
            Forward(piece);
    }

    /// <summary>One load of all of a family waits for the last of them, and dwells as long as the longest.</summary>
    private void Join(IReadOnlyList<int> families)
    {
        var loads = families.Select(f => shop.Nodes.Where(n => n.Family == f && n.IsHeated && !leftOut[n.Piece]).ToList()).ToList();
        foreach (var load in loads.Where(l => handlings[l[0].Family] is not null))
            joint[load[0].Family] = (load.Count, load.Max(n => n.Step.MinS), load.Min(n => n.Step.MaxS));
        // What waits for one load may hold up another; as long as anything moves, so often at most.
        for (var (moved, turn) = (true, 0); moved && turn < MostTurns; turn++)
        {
            moved = false;
            foreach (var load in loads)
            {
                var from = load.Max(n => Start[n.Index]);
                foreach (var n in load.Where(n => Start[n.Index] < from || turn == 0))
                {
                    (Start[n.Index], moved) = (from, true);
                    Both(n.Piece);
                }
            }
        }
    }

    private const int MostTurns = 10;

    // Of a family that is in one load: how many, the longest shortest and the shortest longest dwell.
    private readonly Dictionary<int, (int Count, int MinS, int? MaxS)> joint = [];

    /// <summary>Loading, dwelling between and unloading of the load that a step is in, at least and in seconds.</summary>
    private (int Load, int MinS, int? MaxS, int Unload) InLoad(Node node, Handling hands)
    {
        var (count, min, max) = joint.TryGetValue(node.Family, out var all) ? all : (1, node.Step.MinS, node.Step.MaxS);
        return (hands.InS + (count * hands.InEachS), min, max, hands.OutS + (count * hands.OutEachS));
    }

    private void Forward(int piece)
    {
        for (var n = shop.FirstNode[piece]; n >= 0; n = shop.Nodes[n].Next)
        {
            var node = shop.Nodes[n];
            var before = node.Before >= 0 ? End[node.Before] : node.GivenEnd;
            var t = Math.Max(Math.Max(Start[n], node.Ready), before == int.MinValue ? 0 : Capped(before, node.MinLag));
            if (keepPins)
                t = Math.Max(t, Math.Max(node.PinnedNotBefore, node.PinnedAt));
            (Start[n], End[n]) = node.IsHeated ? Heated(node, t) : Attended(KindOf(node), t, node.Length);
        }
    }

    private static int Capped(int time, int more) => time >= Line.Never ? Line.Never : time + more;

    private (int Start, int End) Attended(StationKind kind, int from, int length) =>
        from < Line.Never && shifts.Earliest(kind, from, length) is var t && t < Line.Never ? (t, t + length) : (Line.Never, Line.Never);

    private (int Start, int End) Heated(Node node, int from)
    {
        if (handlings[node.Family] is not { } hands || from >= Line.Never)
            return (Line.Never, Line.Never);
        var start = Math.Max(from, hands.WarmAtS);
        if (!shop.Families[node.Family].IsLoad)
            return Attended(StationKind.Press, start, hands.InS + hands.InEachS + node.Step.MinS);
        var (load, min, longest, unload) = InLoad(node, hands);
        while (true)
        {
            start = shifts.Earliest(StationKind.Oven, start, load);
            var out1 = start >= Line.Never ? Line.Never : shifts.Earliest(StationKind.Oven, start + load + min, unload);
            if (out1 >= Line.Never)
                return (Line.Never, Line.Never);
            if (longest is not { } max || out1 - start - load <= max)
                return (start, out1 + unload);
            start = out1 - load - max;
        }
    }

    /// <summary>A longest wait keeps what is before it from being done too early; whether anything moved.</summary>
    private bool HoldBack(int piece)
    {
        var moved = false;
        for (var n = shop.LastNode[piece]; n >= 0 && shop.Nodes[n].Before >= 0; n = shop.Nodes[n].Before)
        {
            var (node, before) = (shop.Nodes[n], shop.Nodes[n].Before);
            if (!node.IsTight || Start[n] >= Line.Never || shop.Nodes[before].IsHeated)
                continue;
            var least = Start[n] - node.MaxLag - shop.Nodes[before].Length;
            if (least > Start[before])
                (Start[before], moved) = (least, true);
        }
        return moved;
    }

    private bool Backward(int piece, int time)
    {
        var t = time;
        for (var n = shop.LastNode[piece]; n >= 0; n = shop.Nodes[n].Before)
        {
            var node = shop.Nodes[n];
            var (start, end) = node.IsHeated ? HeatedBy(node, t) : AttendedBy(KindOf(node), t, node.Length);
            if (start < Start[n])
                return false;
            LatestEnd[n] = end;
            t = start - node.MinLag;
        }
        return true;
    }

    private (int Start, int End) AttendedBy(StationKind kind, int time, int length) =>
        shifts.Latest(kind, time, length) is var end && end > int.MinValue ? (end - length, end) : (int.MinValue, int.MinValue);

    private (int Start, int End) HeatedBy(Node node, int time)
    {
        if (handlings[node.Family] is not { } hands)
            return (int.MinValue, int.MinValue);
        if (!shop.Families[node.Family].IsLoad)
            return AttendedBy(StationKind.Press, time, hands.InS + hands.InEachS + node.Step.MinS);
        var (load, min, longest, unload) = InLoad(node, hands);
        var end = time;
        while (true)
        {
            end = shifts.Latest(StationKind.Oven, end, unload);
            var loaded = end == int.MinValue ? end : shifts.Latest(StationKind.Oven, end - unload - min, load);
            if (loaded == int.MinValue)
                return (int.MinValue, int.MinValue);
            if (longest is not { } max || end - unload - loaded <= max)
                return (loaded - load, end);
            end = loaded + max + unload;
        }
    }

    private static StationKind KindOf(Node node) => node.IsSpray ? StationKind.Booth : StationKind.Bench;
}

/// <summary>The shortest times of loading and unloading that any station offers a family, in seconds; for a press of laying up.</summary>
internal sealed record Handling(int InS, int InEachS, int OutS, int OutEachS, int WarmAtS)
{
    public static Handling? Shortest(Shop shop, Family family)
    {
        var places = shop.Heated.Where(h => h.IsOven == family.IsLoad && h.Reaches(family.TenthsC)).ToList();
        if (places.Count == 0)
            return null;
        // What runs may have the station warm sooner than it is known to be now.
        var warm = shop.Running.Tasks.Length > 0 ? 0 : places.Min(h => WarmAt(h, family.TenthsC));
        return family.IsLoad
            ? new Handling(
                places.Min(h => h.Oven!.LoadS),
                places.Min(h => h.Oven!.LoadEachS),
                places.Min(h => h.Oven!.UnloadS),
                places.Min(h => h.Oven!.UnloadEachS),
                warm
            )
            : new Handling(places.Min(h => h.Press!.LayUpS), places.Min(h => h.Press!.LayUpEachS), 0, 0, warm);
    }

    private static int WarmAt(HeatedPlace place, int tenths) =>
        place.Station.Heat.NowTenthsC == tenths ? 0 : place.ChangeS(place.Station.Heat.NowTenthsC, tenths);
}
