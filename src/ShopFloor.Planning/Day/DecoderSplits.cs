namespace ShopFloor.Planning.DayPlans;

/// <summary>A group whose members cannot keep their longest waits together is parted, rather than leaving them out.</summary>
internal sealed partial class Decoder
{
    private const int Replaced = 4;
    private readonly Dictionary<int, (int First, int Second)> parts = [];

    /// <summary>Parts the largest group of a block that cannot be placed, and places the parts; false when none can be parted.</summary>
    private bool Split(List<Op> ops)
    {
        var (largest, members) = (-1, 1);
        foreach (var op in ops)
            if (op.Code < 0)
            {
                var count = groups[~op.Code].Family < 0 ? 0 : groups[~op.Code].Nodes.Count(n => !Failed[nodes[n].Piece]);
                if (count > members)
                    (largest, members) = (~op.Code, count);
            }
        if (largest < 0 || groups[largest].Joins >= 0)
            return false;
        // That a set lies on the shelves does not prove that every part of it is found a place: then the group gives up.
        var (first, second) = Halves(groups[largest]);
        if (first is null || second is null)
            return false;
        var (a, b) = (AddGroup(first), AddGroup(second));
        foreach (var op in ops)
            if (op.Code < 0)
                groupState[~op.Code] = Waiting;
        groupState[largest] = Replaced;
        parts[largest] = (a, b);
        PlaceGroup(a);
        PlaceGroup(b);
        return true;
    }

    /// <summary>Members whose time already runs come apart from those that can wait; otherwise by half.</summary>
    private (Group?, Group?) Halves(Group group)
    {
        // Failed members stay members: the solution may be placed anew with them.
        var failed = Array.FindAll(group.Nodes, n => Failed[nodes[n].Piece]);
        var alive = Array.FindAll(group.Nodes, n => !Failed[nodes[n].Piece]);
        var pressed = Array.FindAll(alive, n => Runs(n));
        if (pressed.Length > 0 && pressed.Length < alive.Length)
            return (maker.Make([.. failed, .. pressed]), maker.Make(Array.FindAll(alive, n => !Runs(n))));
        var half = alive.Length / 2;
        return (maker.Make([.. failed, .. alive.AsSpan(0, half)]), maker.Make(alive.AsSpan(half)));
    }

    private bool Runs(int n)
    {
        while (nodes[n].IsTight && nodes[n].Before >= 0)
            n = nodes[n].Before;
        return nodes[n].IsTight;
    }

    private int AddGroup(Group group)
    {
        var g = groups.Length;
        groups = [.. groups, group];
        if (groupState.Length < groups.Length)
            Array.Resize(ref groupState, groups.Length + 16);
        groupState[g] = Waiting;
        foreach (var n in group.Nodes)
            groupOf[n] = g;
        return g;
    }

    /// <summary>The solution with every parted group replaced by its parts; the same solution when none was.</summary>
    public Solution AsPlaced(Solution solution)
    {
        if (parts.Count == 0)
            return solution;
        var order = new List<Group>();
        for (var g = 0; g < solution.Groups.Length; g++)
            AddParts(g, order);
        return solution with { Groups = [.. order] };
    }

    private void AddParts(int g, List<Group> order)
    {
        if (parts.TryGetValue(g, out var two))
        {
            AddParts(two.First, order);
            AddParts(two.Second, order);
        }
        else
            order.Add(groups[g]);
    }
}
