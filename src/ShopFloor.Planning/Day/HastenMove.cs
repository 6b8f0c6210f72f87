namespace ShopFloor.Planning.DayPlans;

/// <summary>A move of the search: what one of the last pieces waits for comes first. Along the way of such a piece a step is found that could
/// have begun sooner had people and stations been free, and the load or session that it leads to goes forward in the order.</summary>
internal sealed class HastenMove(Workroom room, PlacedTimes times, SeededRandom random)
{
    /// <summary>Pieces that end so many seconds before the last one count as last too.</summary>
    private const int NearlyLastS = 1_200;

    private readonly Shop shop = room.Shop;
    private readonly List<int> found = [];

    /// <summary>The changed solution, or null.</summary>
    public Solution? Change(Solution s)
    {
        if (OneOfTheLast() is var last && (last < 0 || WaitingOn(last) is not (>= 0 and var step)))
            return null;
        while (!shop.Nodes[step].IsHeated && shop.Nodes[step].Next >= 0)
            step = shop.Nodes[step].Next;
        var at = Array.FindIndex(s.Groups, g => Array.IndexOf(g.Nodes, step) >= 0);
        if (at <= 0)
            return null;
        var order = s.Groups.ToList();
        order.RemoveAt(at);
        order.Insert(random.Next(at), s.Groups[at]);
        return s with { Groups = [.. order] };
    }

    private int OneOfTheLast()
    {
        var last = -1;
        for (var n = 0; n < times.End.Length; n++)
            if (times.Start[n] >= 0 && (last < 0 || times.End[n] > times.End[last]))
                last = n;
        if (last < 0 || random.Next(2) == 0)
            return last;
        found.Clear();
        for (var n = 0; n < times.End.Length; n++)
            if (times.Start[n] >= 0 && times.End[n] > times.End[last] - NearlyLastS)
                found.Add(n);
        return found[random.Next(found.Count)];
    }

    /// <summary>A step of the piece, at or before this one, that the piece itself does not hold up; or -1.</summary>
    private int WaitingOn(int last)
    {
        found.Clear();
        for (var n = last; n >= 0; n = shop.Nodes[n].Before)
        {
            var (node, before) = (shop.Nodes[n], shop.Nodes[n].Before);
            var free = before < 0 ? node.Ready : Math.Max(node.Ready, times.End[before] + node.MinLag);
            if (times.Start[n] > free)
                found.Add(n);
        }
        return found.Count == 0 ? -1 : found[random.Next(found.Count)];
    }
}
