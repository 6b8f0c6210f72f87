using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Whether benches and racks hold what lies on them at once, for the times that a net has placed.</summary>
internal sealed class FineRoom
{
    /// <summary>Something that takes room from one time to another.</summary>
    private sealed record Stay(Func<int> From, Func<int> To, long Size);

    private readonly List<(long Room, Stay[] Stays)> places = [];

    public FineRoom(Shop shop, FineNet fine, Plan plan)
    {
        foreach (var bench in shop.Benches.Where(b => b.Places is not null))
            places.Add((bench.Places!.Value, [.. OnBench(fine, bench.Id)]));
        if (shop.AmpleRack >= 0)
            return;
        var nodes = shop.Nodes.ToDictionary(n => (shop.Pieces[n.Piece].Id, n.StepNumber), n => n.Index);
        for (var r = 0; r < shop.Racks.Length; r++)
            places.Add((shop.Racks[r].AreaUm2, [.. OnRack(shop, fine, plan, nodes, r)]));
    }

    private static IEnumerable<Stay> OnBench(FineNet fine, string bench) =>
        Enumerable
            .Range(0, fine.Source.Length)
            .Where(t => fine.Source[t].Station == bench)
            .Select(t => new Stay(() => fine.Net.Start[t], () => fine.Net.End(t), 1));

    private static IEnumerable<Stay> OnRack(Shop shop, FineNet fine, Plan plan, Dictionary<(string, int), int> nodes, int rack)
    {
        foreach (var task in plan.Tasks.Where(t => t.Kind == TaskKinds.Rest && t.Station == shop.Racks[rack].Id))
        {
            var before = nodes.TryGetValue((task.Piece!, task.Step!.Value - 1), out var b) ? fine.Last[b] : -1;
            var after = nodes.TryGetValue((task.Piece!, task.Step.Value + 1), out var a) ? fine.First[a] : -1;
            var piece = Array.FindIndex(shop.Pieces, p => p.Id == task.Piece);
            yield return new Stay(
                () => before >= 0 ? fine.Net.End(before) : task.StartS,
                () => after >= 0 ? fine.Net.Start[after] : task.EndS!.Value,
                shop.RackArea(rack, piece)
            );
        }
    }

    /// <summary>Whether everything has room.</summary>
    public bool Holds()
    {
        foreach (var (room, stays) in places)
        {
            var changes = new List<(int At, long Size)>(2 * stays.Length);
            foreach (var stay in stays)
            {
                changes.Add((stay.From(), stay.Size));
                changes.Add((stay.To(), -stay.Size));
            }
            // What leaves makes room for what comes in the same second.
            changes.Sort();
            var taken = 0L;
            foreach (var (_, size) in changes)
                if ((taken += size) > room)
                    return false;
        }
        return true;
    }
}
