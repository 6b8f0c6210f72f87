namespace ShopFloor.Planning.DayPlans;

/// <summary>What the published plan had decided, as solutions of the day that is to be planned anew: who shares a load or session, who comes
/// first and which steps waited. What it does not have comes in where its promise asks for it.</summary>
internal sealed class StandingOrder(Shop shop, GroupMaker maker, bool[] leftOut, int[] due)
{
    private readonly (int Start, string Station)[] published = shop.Published;

    /// <summary>Solutions that keep the groups and order: nothing waits, only sprays wait as they did, and everything waits as it did.
    /// None when nothing is published.</summary>
    /// <param name="made">Groups made without the published plan; they say with whom a step goes that is not in it.</param>
    public IEnumerable<Solution> Solutions(IReadOnlyList<Group> made)
    {
        if (!Array.Exists(published, p => p.Start != Decoder.NotPublished))
            yield break;
        Group[] order = [.. Order(made)];
        yield return new Solution(order, 0);
        yield return new Solution(order, 0, Holds(sprays: true));
        yield return new Solution(order, 0, Holds(sprays: false));
    }

    private int[] Holds(bool sprays) =>
        [.. shop.Nodes.Select(n => published[n.Index].Start is > 0 and var start && (n.IsSpray || !sprays) ? start : 0)];

    private IEnumerable<Group> Order(IReadOnlyList<Group> made)
    {
        var standing = new List<(int Start, Group Group)>();
        var known = shop.Nodes.Where(n => n.IsHeated && Known(n.Index)).GroupBy(n => (n.Family, published[n.Index]));
        foreach (var batch in known)
        foreach (var group in Whole([.. batch.Select(n => n.Index)]))
            standing.Add((batch.Key.Item2.Start, group));
        var news = new List<Group>();
        foreach (var group in made)
            if (group.Family < 0 && Known(group.Nodes[^1]))
                standing.Add((published[group.Nodes[^1]].Start, group));
            else if (Array.FindAll(group.Nodes, n => group.Family < 0 || !Known(n)) is { Length: > 0 } others)
                news.AddRange(Whole(others));
        var order = standing.OrderBy(s => s.Start).ThenBy(s => s.Group.Nodes[0]).Select(s => s.Group).ToList();
        foreach (var group in news.OrderBy(Due))
        {
            var at = order.FindIndex(g => Due(g) > Due(group));
            order.Insert(at < 0 ? order.Count : at, group);
        }
        return order;
    }

    private bool Known(int n) => published[n].Start != Decoder.NotPublished && !leftOut[shop.Nodes[n].Piece];

    private int Due(Group group) => group.Nodes.Min(n => due[n]);

    private IEnumerable<Group> Whole(int[] members) => maker.Make(members) is { } group ? [group] : members.Select(n => maker.Make([n])!);
}
