using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>The first part of a plan: what starts before a time, and whatever hangs on that by longest waits or by sharing a batch.</summary>
internal sealed class PlanStart
{
    private readonly Shop shop;
    private readonly Dictionary<(string Piece, int Step), int> at;
    private readonly Dictionary<int, int[]> together = [];

    private PlanStart(Shop shop, Plan plan, int untilS)
    {
        this.shop = shop;
        at = shop.Nodes.ToDictionary(n => (shop.Pieces[n.Piece].Id, n.StepNumber), n => n.Index);
        Kept = new bool[shop.Nodes.Length];
        var starts = plan
            .Tasks.Where(t => t.Kind is TaskKinds.Load or TaskKinds.Press)
            .ToDictionary(t => t.Batch!, t => t.StartS, StringComparer.Ordinal);
        var first = new List<int>();
        foreach (var batch in plan.Batches.Where(b => b.Kind != BatchKinds.Round))
        {
            int[] members = [.. batch.Places.Select(p => at.GetValueOrDefault((p.Piece, p.Step), -1)).Where(n => n >= 0)];
            foreach (var n in members)
                together[n] = members;
            if (starts.TryGetValue(batch.Id, out var start) && start < untilS)
                first.AddRange(members);
        }
        foreach (var task in plan.Tasks)
            if (task is { Piece: { } piece, Step: { } step } && task.StartS < untilS && at.TryGetValue((piece, step), out var n))
                first.Add(n);
        Spread(new Stack<int>(first));
        Plan = Cut(plan, untilS);
    }

    /// <summary>Cuts it out.</summary>
    public static PlanStart Of(Shop shop, Plan plan, int untilS) => new(shop, plan, untilS);

    /// <summary>The steps that it contains.</summary>
    public bool[] Kept { get; }

    /// <summary>The first part alone.</summary>
    public Plan Plan { get; }

    private void Spread(Stack<int> open)
    {
        while (open.TryPop(out var n))
        {
            if (Kept[n])
                continue;
            Kept[n] = true;
            var node = shop.Nodes[n];
            if (node.Before >= 0)
                open.Push(node.Before);
            else
                foreach (var other in shop.After[node.Piece])
                    if (shop.LastNode[other] >= 0)
                        open.Push(shop.LastNode[other]);
            if (node.Next >= 0 && shop.Nodes[node.Next].IsTight)
                open.Push(node.Next);
            foreach (var other in together.GetValueOrDefault(n, []))
                open.Push(other);
        }
    }

    private Plan Cut(Plan plan, int untilS)
    {
        var batches = plan
            .Batches.Where(b => b.Kind == BatchKinds.Round || b.Places.Any(p => IsKept(p.Piece, p.Step)) || IsGiven(b))
            .ToDictionary(b => b.Id, StringComparer.Ordinal);
        var rounds = plan.Tasks.Where(t => t.Kind == TaskKinds.Spray && IsKept(t.Piece!, t.Step!.Value)).Select(t => t.Batch).ToHashSet();
        var lastHeat = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var task in plan.Tasks)
            if (task.Kind is TaskKinds.Load or TaskKinds.Press && batches.ContainsKey(task.Batch!))
                lastHeat[task.Station] = Math.Max(task.StartS, lastHeat.GetValueOrDefault(task.Station, int.MinValue));
        bool Stays(PlanTask t) =>
            t.Kind == TaskKinds.SetPoint ? t.StartS < 0 || t.StartS < lastHeat.GetValueOrDefault(t.Station, int.MinValue)
            : t.Kind == TaskKinds.Shake ? rounds.Contains(t.Batch) || IsGiven(batches[t.Batch!])
            : t.Kind == TaskKinds.Rest ? t.StartS < 0 || IsKept(t.Piece!, t.Step!.Value - 1) || IsKept(t.Piece!, t.Step.Value + 1)
            : t.Piece is { } piece ? IsKept(piece, t.Step!.Value)
            : batches.ContainsKey(t.Batch!);
        return plan with
        {
            Tasks = [.. plan.Tasks.Where(Stays)],
            Batches = [.. batches.Values.Where(b => b.Kind != BatchKinds.Round || rounds.Contains(b.Id) || IsGiven(b))],
        };
    }

    private bool IsGiven(Batch batch) => Array.Exists(shop.Running.Batches, r => r.Batch.Id == batch.Id);

    private bool IsKept(string piece, int step) => at.TryGetValue((piece, step), out var n) && Kept[n];
}
