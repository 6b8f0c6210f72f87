using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>What a line-up takes over from the plan that it begins with.</summary>
internal sealed class PlanStarts
{
    private readonly Shop shop;

    public PlanStarts(Shop shop, Plan plan)
    {
        this.shop = shop;
        Start = new int[shop.Nodes.Length];
        UseBy = new int[shop.Nodes.Length];
        Can = new int[shop.Nodes.Length];
        Booth = new int[shop.Nodes.Length];
        Rack = new int[shop.Nodes.Length];
        Array.Fill(Start, -1);
        Array.Fill(UseBy, Line.Never);
        var nodeAt = shop.Nodes.ToDictionary(n => (shop.Pieces[n.Piece].Id, n.StepNumber), n => n.Index);
        var batches = plan.Batches.ToDictionary(b => b.Id, StringComparer.Ordinal);
        foreach (var task in plan.Tasks)
            if (task is { Piece: { } piece, Step: { } step } && nodeAt.TryGetValue((piece, step), out var n))
            {
                Start[n] = task.StartS;
                if (task.Kind == TaskKinds.Spray)
                    FindCan(n, task.Station, batches[task.Batch!]);
            }
            else if (task.Kind == TaskKinds.Rest && nodeAt.TryGetValue((task.Piece!, task.Step!.Value + 1), out var next))
                Rack[next] = Array.FindIndex(shop.Racks, r => r.Id == task.Station);
            else if (task.Kind is TaskKinds.Load or TaskKinds.Press)
                foreach (var place in batches[task.Batch!].Places)
                    if (nodeAt.TryGetValue((place.Piece, place.Step), out var member))
                        Start[member] = task.StartS;
        var running = shop.Running.Batches.Select(b => b.Batch.Id).ToList();
        BatchEnd = [.. running.Select(id => plan.Tasks.Where(t => t.Batch == id).Select(t => t.EndS ?? 0).DefaultIfEmpty().Max())];
        Given = [.. plan.Tasks.Where(t => t.Kind == TaskKinds.Unload && t.StartS >= 0 && t.Batch is { } id && running.Contains(id))];
    }

    /// <summary>When each step starts; -1: not in the plan.</summary>
    public int[] Start { get; }

    /// <summary>Until when the can of each spray may be used.</summary>
    public int[] UseBy { get; }

    /// <summary>The can of each spray.</summary>
    public int[] Can { get; }

    /// <summary>The booth of each spray.</summary>
    public int[] Booth { get; }

    /// <summary>The rack of the rest before each step.</summary>
    public int[] Rack { get; }

    /// <summary>When each running batch ends.</summary>
    public int[] BatchEnd { get; }

    /// <summary>Unloadings of what dwells already.</summary>
    public List<PlanTask> Given { get; }

    /// <summary>Set point of a station and from when it can change.</summary>
    public (int, int) StationFrom(HeatedPlace place)
    {
        var (tenths, from) = (place.Station.Heat.NowTenthsC, 0);
        foreach (var change in shop.Running.Tasks.Where(t => t.Kind == TaskKinds.SetPoint && t.Station == place.Station.Id))
            (tenths, from) = (change.ToTenthsC!.Value, Math.Max(from, change.EndS ?? 0));
        for (var b = 0; b < shop.Running.Batches.Length; b++)
            if (shop.Running.Batches[b] is { } running && running.Batch.Kind != BatchKinds.Round && running.Place >= 0)
                if (ReferenceEquals(shop.Heated[running.Place], place))
                    from = Math.Max(from, BatchEnd[b]);
        return (tenths, from);
    }

    private void FindCan(int n, string booth, Batch round)
    {
        Booth[n] = Array.FindIndex(shop.Booths, b => b.Id == booth);
        var cans = shop.Cans[shop.Nodes[n].Coating];
        Can[n] = Array.FindIndex(cans, c => c.Id == round.Can);
        UseBy[n] = cans[Can[n]].UseByS ?? Line.Never;
    }
}
