namespace ShopFloor.Planning.DayPlans;

/// <summary>Makes the groups of a first solution: urgent pieces first, each load filled with what else suits it, and no load closed
/// half empty while more for it is still to come, as long as nothing urgent waits.</summary>
internal sealed class FirstPlan
{
    private readonly Shop shop;
    private readonly GroupMaker maker;
    private readonly Units units;
    private readonly bool[] leftOut;
    private readonly int[] due;
    private readonly bool[] grouped;
    private readonly List<int>[] waiting;
    private readonly int[] stillToCome;
    private readonly List<Group> made = [];
    private readonly int[][] followers;
    private readonly int[] openAfter;

    /// <summary>After so many pieces in a row that do not fit, a load counts as full.</summary>
    private const int MissesUntilFull = 40;

    // Urgency says for each node how soon it should be done, smallest first.
    public FirstPlan(Shop shop, GroupMaker maker, Units units, bool[] leftOut, int[]? urgency = null)
    {
        (this.shop, this.maker, this.units, this.leftOut) = (shop, maker, units, leftOut);
        due = urgency ?? DueTimes(shop);
        grouped = new bool[shop.Nodes.Length];
        waiting = [.. shop.Families.Select(_ => new List<int>())];
        stillToCome = new int[shop.Families.Length];
        var after = new List<int>[shop.Pieces.Length];
        openAfter = new int[shop.Pieces.Length];
        for (var p = 0; p < after.Length; p++)
            after[p] = [];
        for (var p = 0; p < after.Length; p++)
            foreach (var other in shop.After[p])
                if (shop.FirstNode[other] >= 0)
                {
                    after[other].Add(p);
                    openAfter[p]++;
                }
        followers = [.. after.Select(a => a.ToArray())];
    }

    /// <summary>When each node must start at the latest for its piece to be in time, were nothing ever busy.</summary>
    public static int[] DueTimes(Shop shop)
    {
        var times = new int[shop.Nodes.Length];
        for (var p = 0; p < shop.Pieces.Length; p++)
        {
            var t = (long)shop.Pieces[p].PromiseS;
            for (var n = shop.LastNode[p]; n >= 0; n = shop.Nodes[n].Before)
            {
                var node = shop.Nodes[n];
                t -= node.IsHeated ? node.Step.MinS + 120 : node.Length;
                times[n] = (int)Math.Max(t, int.MinValue / 4);
                t -= node.MinLag;
            }
        }
        return times;
    }

    /// <summary>When each node could begin at the earliest, were nothing ever busy.</summary>
    public static int[] ReadyTimes(Shop shop)
    {
        var times = new int[shop.Nodes.Length];
        for (var p = 0; p < shop.Pieces.Length; p++)
        {
            var t = 0;
            for (var n = shop.FirstNode[p]; n >= 0; n = shop.Nodes[n].Next)
            {
                var node = shop.Nodes[n];
                t = Math.Max(t + node.MinLag, node.Ready);
                times[n] = t;
                t += node.IsHeated ? node.Step.MinS + 120 : node.Length;
            }
        }
        return times;
    }

    public List<Group> Make()
    {
        for (var n = 0; n < shop.Nodes.Length; n++)
            if (shop.Nodes[n].IsHeated && !leftOut[shop.Nodes[n].Piece])
                stillToCome[shop.Nodes[n].Family]++;
        for (var p = 0; p < shop.Pieces.Length; p++)
            if (!leftOut[p] && shop.FirstNode[p] >= 0 && openAfter[p] == 0)
                Offer(shop.FirstNode[p], p);
        while (NextFamily() is var family and >= 0)
            Close(family);
        return made;
    }

    /// <summary>The piece's next node that needs an oven or press now waits for a group; a piece that needs none is a group alone.</summary>
    private void Offer(int from, int piece)
    {
        for (var n = from; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].IsHeated)
            {
                Insert(waiting[shop.Nodes[n].Family], n);
                return;
            }
        if (from == shop.FirstNode[piece])
            made.Add(maker.Make([shop.LastNode[piece]])!);
        foreach (var p in followers[piece])
            if (--openAfter[p] == 0 && !leftOut[p])
                Offer(shop.FirstNode[p], p);
    }

    private void Insert(List<int> list, int n)
    {
        var at = list.BinarySearch(n, Comparer<int>.Create(Compare));
        list.Insert(at < 0 ? ~at : at, n);
    }

    private int Compare(int a, int b)
    {
        var c = due[a].CompareTo(due[b]);
        return c != 0 ? c : a.CompareTo(b);
    }

    private int NextFamily()
    {
        var (best, bestOpen) = (-1, true);
        for (var f = 0; f < waiting.Length; f++)
        {
            if (waiting[f].Count == 0)
                continue;
            // More of this family comes later: others first, if they have something to do.
            var open = waiting[f].Count < stillToCome[f] && waiting[f].Count < MissesUntilFull;
            if (best < 0 || (bestOpen && !open) || (bestOpen == open && Compare(waiting[f][0], waiting[best][0]) < 0))
                (best, bestOpen) = (f, open);
        }
        return best;
    }

    private void Close(int family)
    {
        var list = waiting[family];
        var members = new List<int>();
        var group = Start(list[0], members);
        var misses = 0;
        var growth = new Growth(shop.Heated.Length);
        for (var i = 1; i < list.Count && misses < MissesUntilFull; i++)
        {
            if (grouped[list[i]])
                continue;
            var before = members.Count;
            members.AddRange(units.Of(list[i]));
            // Nodes that a pin ties together come several at once: what they take is no one piece's room.
            var single = members.Count == before + 1 ? growth : null;
            if (AreWaiting(list, members, before) && maker.Make(members.ToArray(), single) is { } larger)
            {
                group = larger;
                misses = 0;
                for (var m = before; m < members.Count; m++)
                    grouped[members[m]] = true;
            }
            else
            {
                members.RemoveRange(before, members.Count - before);
                misses++;
            }
        }
        made.Add(group);
        list.RemoveAll(n => grouped[n]);
        stillToCome[family] -= members.Count;
        foreach (var n in members)
            Offer2(n);
    }

    private void Offer2(int n)
    {
        var next = shop.Nodes[n].Next;
        Offer(next, shop.Nodes[n].Piece);
    }

    private Group Start(int seed, List<int> members)
    {
        members.AddRange(units.Of(seed));
        var group = AreWaiting(waiting[shop.Nodes[seed].Family], members, 0) ? maker.Make(members.ToArray()) : null;
        if (group is null)
        {
            members.Clear();
            members.Add(seed);
            group = maker.Make([seed])!;
        }
        foreach (var n in members)
            grouped[n] = true;
        return group;
    }

    private bool AreWaiting(List<int> list, List<int> members, int from)
    {
        for (var m = from; m < members.Count; m++)
            if (grouped[members[m]] || (members.Count - from > 1 && !list.Contains(members[m])))
                return false;
        return true;
    }
}

/// <summary>Nodes that a pin ties to each other and that move together; most stand alone.</summary>
internal sealed class Units
{
    private readonly int[][] of;

    public Units(Shop shop)
    {
        of = new int[shop.Nodes.Length][];
        for (var n = 0; n < of.Length; n++)
            of[n] = [n];
        var at = shop.Pieces.Select((piece, p) => (piece.Id, p)).ToDictionary(x => x.Id, x => x.p, StringComparer.Ordinal);
        foreach (var node in shop.Nodes.Where(n => n.IsHeated))
        foreach (var pin in shop.Pieces[node.Piece].Pins)
            if (pin.Step == node.StepNumber && pin.With is { } with && Partner(shop, node, at[with]) is var partner and >= 0)
                Tie(node.Index, partner);
    }

    public ReadOnlySpan<int> Of(int n) => of[n];

    private static int Partner(Shop shop, Node node, int piece)
    {
        var best = -1;
        for (var n = shop.FirstNode[piece]; n >= 0; n = shop.Nodes[n].Next)
            if (shop.Nodes[n].Family == node.Family && (best < 0 || Distance(n) < Distance(best)))
                best = n;
        return best;

        int Distance(int n) => Math.Abs(shop.Nodes[n].StepNumber - node.StepNumber);
    }

    private void Tie(int a, int b)
    {
        int[] all = [.. of[a].Concat(of[b]).Distinct().Order()];
        foreach (var n in all)
            of[n] = all;
    }
}
