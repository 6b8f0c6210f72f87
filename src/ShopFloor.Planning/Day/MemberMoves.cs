namespace ShopFloor.Planning.DayPlans;

/// <summary>Changes of who shares a load or session with whom.</summary>
internal sealed partial class Chain
{
    private int Other(Solution s, int a)
    {
        for (var tries = 0; tries < 12; tries++)
        {
            var b = tries < 6 ? Near(a, s.Groups.Length) : random.Next(s.Groups.Length);
            if (b != a && s.Groups[a].Family >= 0 && s.Groups[b].Family == s.Groups[a].Family)
                return b;
        }
        return -1;
    }

    private Solution? MoveMember(Solution s)
    {
        var a = AnyGroup(s);
        var b = Other(s, a);
        if (b < 0)
            return null;
        var unit = room.Units.Of(s.Groups[a].Nodes[random.Next(s.Groups[a].Nodes.Length)]).ToArray();
        var to = s.Groups[b].Nodes.ToList();
        to.InsertRange(random.Next(to.Count + 1), unit.Where(n => s.Groups[a].Nodes.Contains(n)));
        return Exchanged(s, a, Without(s.Groups[a].Nodes, unit), b, to);
    }

    /// <summary>All members with the same coats, or by chance some of them, join another load or session, or make one of their own.</summary>
    private Solution? MoveAlike(Solution s)
    {
        var a = AnyGroup(s);
        var nodes = s.Groups[a].Nodes;
        if (s.Groups[a].Family < 0 || nodes.Length < 3)
            return null;
        var kind = room.Coats.KindOf(room.Shop.Nodes[nodes[random.Next(nodes.Length)]].Piece);
        var all = random.Next(2) == 0;
        var alike = Array.FindAll(nodes, n => room.Coats.KindOf(room.Shop.Nodes[n].Piece) == kind && (all || random.Next(2) == 0));
        if (alike.Length < 2 || alike.Length == nodes.Length)
            return null;
        var rest = Without(nodes, alike);
        if (random.Next(4) > 0)
            return Other(s, a) is var b and >= 0 ? Exchanged(s, a, rest, b, [.. s.Groups[b].Nodes, .. alike]) : null;
        if (room.Maker.Make(rest.ToArray()) is not { } one || room.Maker.Make(alike) is not { } two)
            return null;
        var list = s.Groups.ToList();
        list[a] = one;
        list.Insert(Near(a, list.Count + 1), two);
        return s with { Groups = [.. list] };
    }

    private Solution? ExchangeMembers(Solution s)
    {
        var a = AnyGroup(s);
        var b = Other(s, a);
        if (b < 0)
            return null;
        var (one, other) = (Pick(s.Groups[a]), Pick(s.Groups[b]));
        var first = Without(s.Groups[a].Nodes, one);
        var second = Without(s.Groups[b].Nodes, other);
        first.AddRange(other.Where(n => s.Groups[b].Nodes.Contains(n)));
        second.AddRange(one.Where(n => s.Groups[a].Nodes.Contains(n)));
        return Exchanged(s, a, first, b, second);
    }

    private int[] Pick(Group group) => room.Units.Of(group.Nodes[random.Next(group.Nodes.Length)]).ToArray();

    private static List<int> Without(int[] nodes, int[] unit) => [.. nodes.Where(n => !unit.Contains(n))];

    private Solution? Exchanged(Solution s, int a, List<int> first, int b, List<int> second)
    {
        if (second.Count == 0 || room.Maker.Make(second.ToArray()) is not { } two)
            return null;
        Group? one = null;
        if (first.Count > 0 && (one = room.Maker.Make(first.ToArray())) is null)
            return null;
        var groups = (Group[])s.Groups.Clone();
        groups[b] = two;
        if (one is not null)
            groups[a] = one;
        return s with { Groups = one is null ? [.. groups.Where((_, g) => g != a)] : groups };
    }

    private Solution? Part(Solution s)
    {
        var a = AnyGroup(s);
        if (s.Groups[a].Family < 0 || s.Groups[a].Nodes.Length < 2)
            return null;
        var unit = Pick(s.Groups[a]);
        var rest = Without(s.Groups[a].Nodes, unit);
        if (rest.Count == 0 || room.Maker.Make(rest.ToArray()) is not { } one || room.Maker.Make(unit) is not { } two)
            return null;
        var list = s.Groups.ToList();
        list[a] = one;
        list.Insert(Near(a, list.Count + 1), two);
        return s with { Groups = [.. list] };
    }

    private Solution? Merge(Solution s)
    {
        var a = AnyGroup(s);
        var b = Other(s, a);
        return b < 0 ? null : Exchanged(s, a, [], b, [.. s.Groups[b].Nodes, .. s.Groups[a].Nodes]);
    }
}
