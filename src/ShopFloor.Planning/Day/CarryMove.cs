namespace ShopFloor.Planning.DayPlans;

/// <summary>A move of the search: some members of a load or session go to another place in the order, and carry along what their pieces
/// do in ovens and presses before and after, so that no step of a piece stands before the one that it follows.</summary>
internal sealed class CarryMove(Workroom room, SeededRandom random)
{
    /// <summary>So many loads or sessions with others in them are tried before one of its own is opened.</summary>
    private const int MostTries = 4;

    private readonly Shop shop = room.Shop;
    private readonly List<Group> order = [];

    /// <summary>The changed solution, or null.</summary>
    public Solution? Change(Solution s)
    {
        var from = random.Next(s.Groups.Length);
        var group = s.Groups[from];
        if (group.Family < 0 || s.Groups.Length < 2)
            return null;
        var some = random.Next(2) == 0 ? group.Nodes : room.Units.Of(group.Nodes[random.Next(group.Nodes.Length)]).ToArray();
        some = Array.FindAll(some, n => Array.IndexOf(group.Nodes, n) >= 0);
        order.Clear();
        order.AddRange(s.Groups);
        var to = random.Next(s.Groups.Length);
        if (!TakeOut(some) || room.Maker.Make(some) is not { } moved)
            return null;
        Put(moved, Math.Min(to, order.Count));
        foreach (var n in some)
            if (!Carry(n))
                return null;
        return s with { Groups = [.. order] };
    }

    /// <summary>Into a group of the family that stands near, or as one of their own.</summary>
    private void Put(Group moved, int at)
    {
        for (var (k, tries) = (at, 0); k < order.Count && tries < 2; k++)
            if (order[k].Family == moved.Family)
            {
                tries++;
                if (room.Maker.Make([.. order[k].Nodes, .. moved.Nodes]) is { } together)
                {
                    order[k] = together;
                    return;
                }
            }
        order.Insert(at, moved);
    }

    private bool TakeOut(ReadOnlySpan<int> some)
    {
        foreach (var n in some)
        {
            var at = PlaceOf(n);
            if (at < 0)
                continue;
            int[] rest = [.. order[at].Nodes.Except(some.ToArray())];
            if (rest.Length == 0)
                order.RemoveAt(at);
            else if (room.Maker.Make(rest) is { } less)
                order[at] = less;
            else
                return false;
        }
        return true;
    }

    private int PlaceOf(int n) => order.FindIndex(g => Array.IndexOf(g.Nodes, n) >= 0);

    private bool Carry(int n)
    {
        var at = PlaceOf(n);
        for (var m = shop.Nodes[n].Next; m >= 0; m = shop.Nodes[m].Next)
            if (shop.Nodes[m].IsHeated && (at = Behind(m, at)) < 0)
                return false;
        at = PlaceOf(n);
        for (var m = shop.Nodes[n].Before; m >= 0; m = shop.Nodes[m].Before)
            if (shop.Nodes[m].IsHeated && (at = Before(m, at)) < 0)
                return false;
        return true;
    }

    /// <summary>Sees to it that a step stands behind a place; where it stands then, or -1.</summary>
    private int Behind(int m, int at)
    {
        if (PlaceOf(m) is var now && (now < 0 || now > at))
            return now < 0 ? at : now;
        var count = order.Count;
        if (!TakeOut([m]))
            return -1;
        at -= count - order.Count;
        var tries = 0;
        for (var k = at + 1; k < order.Count && tries < MostTries; k++)
            if (order[k].Family == shop.Nodes[m].Family)
            {
                tries++;
                if (Joined(k, m))
                    return k;
            }
        return Alone(m, at + 1);
    }

    private int Before(int m, int at)
    {
        if (PlaceOf(m) is var now && (now < 0 || now < at))
            return now < 0 ? at : now;
        if (!TakeOut([m]))
            return -1;
        var tries = 0;
        for (var k = at - 1; k >= 0 && tries < MostTries; k--)
            if (order[k].Family == shop.Nodes[m].Family)
            {
                tries++;
                if (Joined(k, m))
                    return k;
            }
        return Alone(m, at);
    }

    private bool Joined(int k, int m)
    {
        if (room.Maker.Make([.. order[k].Nodes, m]) is not { } more)
            return false;
        order[k] = more;
        return true;
    }

    private int Alone(int m, int at)
    {
        if (room.Maker.Make([m]) is not { } alone)
            return -1;
        order.Insert(at, alone);
        return at;
    }
}
