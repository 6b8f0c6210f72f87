using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Leeway in longest waits: a wipe that would wait nearly as long as it may is done later where that costs nothing, so that a spray that
/// begins some minutes late does not find the piece past its time. Batches, rounds and the end of the day stay where they are.</summary>
internal sealed partial class Decoder
{
    /// <summary>One part in so many of a longest wait is used where there is a choice, so that hands that take longer before the step, or before the next
    /// one, both have room (common practice, no source).</summary>
    private const int PartsOfAWait = 3;

    /// <summary>So many steps of a person may come earlier to let one go behind them.</summary>
    private const int MostInFront = 24;

    /// <summary>What one step gives way to may be what another one needs, so it is gone through so often.</summary>
    private const int MostPasses = 3;

    private readonly List<(int Node, int Start)> hastened = [];

    /// <summary>Gives leeway to all steps at benches that a longest wait follows. Some then have other times, and perhaps another person.</summary>
    public void GiveLeeway()
    {
        for (var pass = 0; pass < MostPasses && GoThrough(); pass++) { }
    }

    private bool GoThrough()
    {
        int[] some = [.. nodes.Where(IsTense).Select(n => n.Index).OrderByDescending(n => Start[n]).ThenBy(n => n)];
        if (some.Length == 0)
            return false;
        var hands = people.Select(_ => new List<int>()).ToArray();
        foreach (var n in nodes.Where(CanComeEarlier).Select(n => n.Index).OrderBy(n => Start[n]).ThenBy(n => n))
            hands[PersonOf[n]].Add(n);
        var (asked, any) = (holds, false);
        holds = null;
        foreach (var n in some)
        {
            var before = Start[n];
            GoLater(n);
            if (Start[n] < LatestWithLeeway(n))
                LetOthersFirst(n, hands[PersonOf[n]]);
            any |= Start[n] > before;
        }
        holds = asked;
        return any;
    }

    private bool IsTense(Node node) =>
        !node.IsSpray
        && node is { IsHeated: false, IsTight: false, Next: >= 0, RestStep: 0, RestAfter: false, PinnedAt: < 0 }
        && nodes[node.Next].IsTight
        && Start[node.Index] >= 0
        && Start[node.Next] >= 0
        && HasItsPlace(node)
        && Start[node.Index] < LatestWithLeeway(node.Index);

    private bool CanComeEarlier(Node node) =>
        !node.IsSpray
        && node is { IsHeated: false, RestStep: 0, RestAfter: false, PinnedAt: < 0 }
        && (node.Next < 0 || !nodes[node.Next].IsTight)
        && HasItsPlace(node);

    /// <summary>Whether it is placed, and holds a place where its bench has so many: a plan that was read and breaks a rule need not have one.</summary>
    private bool HasItsPlace(Node node) =>
        Start[node.Index] >= 0 && !Failed[node.Piece] && (benches[StationOf[node.Index]].Length == 0 || placeOf[node.Index] >= 0);

    private int LatestWithLeeway(int n)
    {
        var next = nodes[nodes[n].Next];
        return Start[next.Index] - next.MinLag - ((next.MaxLag - next.MinLag) / PartsOfAWait) - nodes[n].Length;
    }

    /// <summary>Into the latest gap before the next step, of whoever has the latest.</summary>
    private void GoLater(int n)
    {
        var (latest, length, own) = (LatestWithLeeway(n), nodes[n].Length, people[PersonOf[n]]);
        own.Remove(Start[n], End[n]);
        var (best, who) = (Start[n], PersonOf[n]);
        foreach (var p in shop.PeopleFor[(int)StationKind.Bench])
            if (people[p].FreeLatest(best + 1, latest, length) is var t && t > best && MayBeAt(n, p, t))
                (best, who) = (t, p);
        own.Add(Start[n], End[n]);
        if (best > Start[n])
            Move(n, who, best);
    }

    /// <summary>Where there is no gap, steps of the same person that follow come earlier by so much that it fits in behind them.</summary>
    /// <param name="n">The step.</param>
    /// <param name="hands">What the person does at benches and may do earlier, by its start.</param>
    private void LetOthersFirst(int n, List<int> hands)
    {
        var (length, latest, line, first) = (nodes[n].Length, LatestWithLeeway(n), people[PersonOf[n]], FirstBehind(hands, Start[n]));
        hastened.Clear();
        line.Remove(Start[n], End[n]);
        var i = first;
        for (; i < hands.Count && Start[hands[i]] <= latest && hastened.Count < MostInFront; i++)
            Hasten(hands[i], Start[n], line);
        var t = hastened.Count == 0 ? -1 : line.FreeLatest(Start[n] + 1, latest, length);
        var fits = t > Start[n] && MayBeAt(n, PersonOf[n], t);
        for (var k = hastened.Count - 1; k >= 0 && !fits; k--)
            Move(hastened[k].Node, PersonOf[n], hastened[k].Start);
        line.Add(Start[n], End[n]);
        if (!fits)
            return;
        Move(n, PersonOf[n], t);
        hands.Sort(first, i - first, Comparer<int>.Create((a, b) => (Start[a], a).CompareTo((Start[b], b))));
    }

    private int FirstBehind(List<int> hands, int time)
    {
        var (low, high) = (0, hands.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (Start[hands[middle]] > time)
                high = middle;
            else
                low = middle + 1;
        }
        return low;
    }

    private void Hasten(int n, int from, Line line)
    {
        release[n] = 0;
        line.Remove(Start[n], End[n]);
        var t = line.Free(Math.Max(Earliest(n), from), nodes[n].Length);
        line.Add(Start[n], End[n]);
        if (t >= Start[n] || !MayBeAt(n, PersonOf[n], t))
            return;
        hastened.Add((n, Start[n]));
        Move(n, PersonOf[n], t);
    }

    /// <summary>Whether a step may be done at another time: at its bench, in no more overtime, and not away from where it was published.</summary>
    private bool MayBeAt(int n, int person, int t)
    {
        var (length, bench, published) = (nodes[n].Length, StationOf[n], shop.PublishedNear[n].Start);
        return (benches[bench].Length == 0 ? baseBenches[bench].IsFree(t, t + length) : PlaceFor(bench, t, t + length) >= 0)
            && Overtime(person, t, t + length) <= Overtime(PersonOf[n], Start[n], End[n])
            && (published == NotPublished || Math.Abs((long)t - published) <= shop.Day.Published!.MovedS);
    }

    private int PlaceFor(int bench, int from, int to) => Array.FindIndex(benches[bench], line => line.IsFree(from, to));

    /// <summary>Gives a step another time, and perhaps another person.</summary>
    private void Move(int n, int person, int t)
    {
        var (length, places) = (nodes[n].Length, benches[StationOf[n]]);
        if (places.Length > 0)
        {
            places[placeOf[n]].Remove(Start[n], End[n]);
            placeOf[n] = PlaceFor(StationOf[n], t, t + length);
            places[placeOf[n]].Add(t, t + length);
        }
        people[PersonOf[n]].Remove(Start[n], End[n]);
        people[person].Add(t, t + length);
        (Start[n], End[n], PersonOf[n]) = (t, t + length, person);
    }
}
