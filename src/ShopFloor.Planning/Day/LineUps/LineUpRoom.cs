using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Whether racks and benches hold what lies on them at once, for a line-up as placed. What can never be too full is not looked at.</summary>
internal sealed class LineUpRoom
{
    private readonly LineUpShop at;
    private readonly Shop shop;
    private readonly List<(long Room, int[] Nodes, List<(int At, long Size)> Given)> racks = [];
    private readonly int[] benchSteps = [];
    private readonly long benchRoom = long.MaxValue;
    private readonly List<(int At, long Size)> changes = [];

    public LineUpRoom(LineUpShop at, Plan plan)
    {
        (this.at, shop) = (at, at.Shop);
        if (shop.AmpleRack < 0)
            for (var r = 0; r < shop.Racks.Length; r++)
                racks.Add(Rack(r, plan));
        if (shop.Benches.Sum(b => (long)(b.Places ?? shop.People.Length)) is var places && places < shop.People.Length)
            (benchRoom, benchSteps) = (places, [.. Steps().Where(n => !n.IsHeated && !n.IsSpray).Select(n => n.Index)]);
    }

    private IEnumerable<Node> Steps() => shop.Nodes.Where(n => at.IsPlanned[n.Piece]);

    private (long, int[], List<(int, long)>) Rack(int r, Plan plan)
    {
        int[] nodes = [.. Steps().Where(n => n.RestStep > 0 && at.Starts.Rack[n.Index] == r).Select(n => n.Index)];
        var given = new List<(int, long)>();
        // Pieces that are left out lie where they lay in the plan.
        foreach (var task in plan.Tasks.Where(t => t.Kind == TaskKinds.Rest && t.Station == shop.Racks[r].Id))
            if (Array.FindIndex(shop.Pieces, p => p.Id == task.Piece) is var piece && !at.IsPlanned[piece])
                given.AddRange([(task.StartS, shop.RackArea(r, piece)), (task.EndS!.Value, -shop.RackArea(r, piece))]);
        return (shop.Racks[r].AreaUm2, nodes, given);
    }

    /// <summary>Whether everything has room.</summary>
    public bool Holds(LineUp line, LineUpTimes times)
    {
        for (var r = 0; r < racks.Count; r++)
        {
            var (room, nodes, given) = racks[r];
            changes.Clear();
            changes.AddRange(given);
            foreach (var n in nodes)
                Stay(From(line, times, shop.Nodes[n]), times.Start[line.StartOp(n)], shop.RackArea(r, shop.Nodes[n].Piece));
            if (!Fit(room))
                return false;
        }
        changes.Clear();
        foreach (var n in benchSteps)
            Stay(times.Start[n], times.End[n], 1);
        return Fit(benchRoom);
    }

    private int From(LineUp line, LineUpTimes times, Node node) =>
        node.Before >= 0 ? times.End[line.EndOp(node.Before)]
        : node.GivenBatch >= 0 ? at.BatchEnd[node.GivenBatch]
        : node.GivenEnd;

    private void Stay(int from, int to, long size)
    {
        changes.Add((from, size));
        changes.Add((to, -size));
    }

    private bool Fit(long room)
    {
        // What leaves makes room for what comes in the same second.
        changes.Sort();
        var taken = 0L;
        foreach (var (_, size) in changes)
            if ((taken += size) > room)
                return false;
        return true;
    }
}
