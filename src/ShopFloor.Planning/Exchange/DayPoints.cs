namespace ShopFloor.Planning.Exchange;

/// <summary>Whether whatever a plan of the day may cost can be counted in whole numbers without running over.</summary>
internal static class DayPoints
{
    /// <summary>No plan's value may come above it: what the search adds on top still fits.</summary>
    private const long Most = 4_000_000_000_000_000_000;

    /// <summary>Names the weight that brings the most points where all together could come too high.</summary>
    public static void Check(Day day, JsonValue root, ProblemList problems)
    {
        var parts = Objective.Names.Zip(Parts(day)).ToList();
        if (parts.Aggregate(Int128.Zero, (sum, p) => sum + p.Second) <= Most)
            return;
        var name = parts.MaxBy(p => p.Second).First;
        var weights = root.Fields.Find(f => f.Name == "weights").Value;
        var at = weights.Fields.Find(f => f.Name == name).Value?.Offset ?? weights.Offset;
        problems.Add(
            at,
            $"weights.{name}",
            "is too large beside the times, pieces and other weights of this day: points could not be counted exactly"
        );
    }

    // In the order of the names: as much as a plan that ends with the day could have of each.
    private static Int128[] Parts(Day day)
    {
        var (w, n) = (day.Weights, (Int128)day.Pieces.Count);
        var end = Math.Max(day.HorizonS, day.Running.Tasks.Select(t => t.EndS ?? 0).DefaultIfEmpty(0).Max());
        var steps = (Int128)day.Pieces.Sum(p => (long)p.Route.Count) + day.Running.Tasks.Count;
        var late = day.Pieces.Aggregate(Int128.Zero, (sum, p) => sum + ((Int128)p.Weight * Math.Max(0L, (long)end - p.PromiseS)));
        return
        [
            n * w.LeftOut,
            late * w.LateS,
            n * w.LatePieces,
            (Int128)end * day.People.Count * w.OvertimeS,
            steps * w.OvenLoads,
            (Int128)end * day.Stations.OfType<Oven>().Count() * w.OvenS,
            steps * w.Shakes,
            steps * 2 * w.SetPoints,
            (Int128)end * w.FinishS,
            (Int128)(day.Published?.Steps.Count ?? 0) * w.Changed,
        ];
    }
}
