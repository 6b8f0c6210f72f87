using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Placing one step outside ovens and presses. Each method answers -1 when placed, else the earliest start that would do
/// (<see cref="Line.Never"/>: none), so that what leads to it can be pushed back.</summary>
internal sealed partial class Decoder
{
    private int TryNode(int n)
    {
        var node = nodes[n];
        // What follows another step may have been placed with it.
        if (Failed[node.Piece] || Start[n] >= 0)
            return -1;
        return node.IsSpray ? TrySpray(n) : TryBench(n);
    }

    private int TryBench(int n)
    {
        var node = nodes[n];
        var (from, latest) = (Earliest(n), Latest(n));
        while (true)
        {
            var t = FindBench(n, from, out var person, out var bench, out var place);
            if (t > latest || t >= Line.Never)
                return t;
            if (RackFrom(n, t + node.Length) is var racked && racked > t + node.Length)
            {
                if (racked >= Line.Never)
                    return Line.Never;
                from = racked - node.Length;
                continue;
            }
            Take(people, PersonLines, person, t, t + node.Length);
            if (place >= 0)
                Take(benches[bench], bench, place, t, t + node.Length);
            placeOf[n] = place;
            Set(n, t, t + node.Length, person, bench);
            return -1;
        }
    }

    private int FindBench(int n, int from, out int person, out int bench, out int place)
    {
        var (best, idle, length) = (Line.Never, 0, nodes[n].Length);
        person = bench = place = -1;
        var pinned = pinDropped[n] ? -1 : nodes[n].PinnedStation;
        if (pinned < 0 && ampleBench >= 0)
            return FindHands(from, length, out person, out bench, out place);
        for (var b = 0; b < benches.Length; b++)
        {
            if (pinned >= 0 && pinned != b)
                continue;
            var unlimited = shop.Benches[b].Places is null;
            foreach (var p in shop.PeopleFor[(int)StationKind.Bench])
                for (var k = 0; k < (unlimited ? 1 : benches[b].Length); k++)
                {
                    var line = unlimited ? baseBenches[b] : benches[b][k];
                    var t = Both(people[p], line, from, length, best + 1);
                    if (t > best || t >= Line.Never || (t == best && p == person))
                        continue;
                    var free = people[p].IdleBefore(t);
                    if (t < best || free < idle)
                        (best, idle, person, bench, place) = (t, free, p, b, unlimited ? -1 : k);
                }
        }
        return best;
    }

    /// <summary>The same where a bench always has room: whoever is free first, and the first bench that has a place then.</summary>
    private int FindHands(int from, int length, out int person, out int bench, out int place)
    {
        var best = AnyPerson(StationKind.Bench, from, length, out person);
        (bench, place) = (ampleBench, -1);
        for (var b = 0; b < ampleBench && best < Line.Never; b++)
        for (var k = 0; k < benches[b].Length; k++)
            if (benches[b][k].IsFree(best, best + length))
            {
                (bench, place) = (b, k);
                return best;
            }
        return best;
    }

    private static int Both(Line one, Line other, int from, int length, int giveUpAt)
    {
        var t = from;
        while (true)
        {
            var a = one.Free(t, length);
            if (a >= giveUpAt)
                return Line.Never;
            t = other.Free(a, length);
            if (t == a)
                return t;
            if (t >= giveUpAt)
                return Line.Never;
        }
    }

    private void Set(int n, int start, int end, int person, int station)
    {
        (Start[n], End[n], PersonOf[n], StationOf[n]) = (start, end, person, station);
        journal.Add(new Undo(UndoKind.Node, n, 0, 0, 0));
        CloseRest(n, start);
        OpenRest(n, end);
    }
}
