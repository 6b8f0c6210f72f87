namespace ShopFloor.Planning.Loads;

/// <summary>
/// Takes windows in time out of a finished plan and lets the constraint solver plan their jobs anew, all other loads staying as they are.
/// One worker, a fixed seed and a limit in deterministic time: the same plan gives the same answer.
/// </summary>
internal static class LoadPolish
{
    private const int MostJobs = 20;
    private const string Parameters = "max_deterministic_time:1.0,num_workers:1,random_seed:1";

    /// <summary>The plan after a number of windows spread over its length.</summary>
    public static LoadPlan Improve(LoadModel model, LoadPlan plan, LoadEffort effort, CancellationToken cancel)
    {
        if (model.Problem.Room is not null)
            return plan;
        for (var w = 0; w < effort.Windows && !cancel.IsCancellationRequested; w++)
        {
            var loads = model.Inside(plan.Loads);
            var byStart = loads.OrderBy(l => l.Start).ThenBy(l => l.Oven).ToArray();
            if (byStart.Length == 0)
                return plan;
            var first = (int)((long)w * byStart.Length / effort.Windows);
            var chosen = Choose(byStart, first);
            var window = Cut(model, loads, chosen);
            var (better, _, _) = new LoadSolver(model, window).Solve(chosen, Parameters, cancel);
            if (better is not null)
                plan = Better(model, plan, [.. loads.Except(chosen), .. better]);
        }
        return plan;
    }

    /// <summary>The cheaper of a plan and the same jobs in other loads (by the model's numbers).</summary>
    public static LoadPlan Better(LoadModel model, LoadPlan plan, IReadOnlyList<PlannedLoad> loads)
    {
        var state = new LoadState(model);
        foreach (var load in loads.OrderBy(l => l.Oven).ThenBy(l => l.Start))
            state.Append(load);
        return state.Cost < plan.Cost ? plan with { Loads = state.ToLoads(), Cost = state.Cost } : plan;
    }

    // Consecutive loads by start, over all ovens, up to the number of jobs; on each oven they follow one another.
    private static PlannedLoad[] Choose(PlannedLoad[] byStart, int first)
    {
        var jobs = 0;
        return [.. byStart.Skip(first).TakeWhile(l => (jobs += l.Jobs.Count) <= MostJobs)];
    }

    private static LoadWindow Cut(LoadModel model, IReadOnlyList<PlannedLoad> loads, PlannedLoad[] chosen)
    {
        var from = chosen.Min(l => l.Start);
        var last = chosen.Max(l => l.Start);
        var inside = chosen.ToHashSet();
        var ovens = new List<LoadWindow.Oven>();
        for (var o = 0; o < model.M; o++)
        {
            var on = loads.Where(l => l.Oven == o && !inside.Contains(l)).OrderBy(l => l.Start).ToArray();
            var split = chosen.Where(l => l.Oven == o).Select(l => (int?)l.Start).Min() ?? (from + last) / 2;
            var before = on.LastOrDefault(l => l.Start < split);
            var after = on.FirstOrDefault(l => l.Start >= split);
            var spans = model.Problem.Ovens[o].Available;
            ovens.Add(
                new(
                    before?.Family ?? model.First[o],
                    before?.End ?? 0,
                    spans,
                    after?.Family ?? -1,
                    after?.Start ?? 0,
                    after is null ? 0 : spans.First(s => s.From <= after.Start && after.End <= s.To).From
                )
            );
        }
        return new([.. chosen.SelectMany(l => l.Jobs)], ovens);
    }
}
