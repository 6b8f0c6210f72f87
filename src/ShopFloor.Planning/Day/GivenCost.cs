using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>What running work costs whatever is planned around it. It is the same for every solution, but counts in the bounds that costs are
/// compared with.</summary>
/// <param name="FinishS">When the last of its attended tasks ends.</param>
/// <param name="OvertimeS">Overtime of them.</param>
/// <param name="Shakes">Shakes.</param>
/// <param name="Loads">Oven loads.</param>
/// <param name="Changed">Near steps of the published plan that run elsewhere or at another time.</param>
internal sealed record GivenCost(int FinishS, long OvertimeS, int Shakes, int Loads, int Changed)
{
    public static GivenCost Of(Shop shop)
    {
        PlanTask[] hands = [.. shop.Running.Tasks.Where(t => t.EndS is not null && IsAttended(t.Kind))];
        return new GivenCost(
            hands.Select(t => t.EndS!.Value).DefaultIfEmpty().Max(),
            hands.Sum(t => Overtime(Array.Find(shop.People, p => p.Id == t.Person), t.StartS, t.EndS!.Value)),
            hands.Count(t => t.Kind == TaskKinds.Shake),
            shop.Running.Batches.Count(b => b.IsLoad),
            ChangedOf(shop)
        );
    }

    private static bool IsAttended(string kind) => kind is not (TaskKinds.Rest or TaskKinds.Dwell or TaskKinds.SetPoint);

    /// <summary>Seconds of a task that lie in somebody's overtime.</summary>
    public static long Overtime(Person? person, int from, int to)
    {
        var sum = 0L;
        foreach (var shift in person?.Shifts ?? [])
            if (shift.NormalToS < to && from < shift.ToS)
                sum += Math.Max(0, Math.Min(to, shift.ToS) - Math.Max(from, shift.NormalToS));
        return sum;
    }

    private static int ChangedOf(Shop shop)
    {
        if (shop.Day.Published is not { } published)
            return 0;
        var now = new Dictionary<(string, int), PlanTask>();
        foreach (var task in shop.Running.Tasks)
            if (task is { Piece: { } piece, Step: { } step })
                now[(piece, step)] = task;
        foreach (var batch in shop.Running.Batches)
            if ((batch.Load ?? batch.Press) is { } task)
                foreach (var place in batch.Batch.Places)
                    now[(place.Piece, place.Step)] = task;
        return published.Steps.Count(s =>
            s.StartS < published.NearS
            && now.TryGetValue((s.Piece, s.Step), out var at)
            && (at.Station != s.Station || Math.Abs((long)at.StartS - s.StartS) > published.MovedS)
        );
    }
}
