namespace ShopFloor.Planning.Loads;

/// <summary>How long to search. The plan depends on these numbers and on the problem, never on the machine or the clock.</summary>
/// <param name="Seed">Fixes the random choices.</param>
/// <param name="Steps">Changes tried by each chain, over all rounds.</param>
/// <param name="Chains">Searches side by side with seeds of their own; the best counts, ties go to the first.</param>
/// <param name="Rounds">Parts into which the steps are cut; progress is told and cancellation heeded between them.</param>
/// <param name="Windows">Parts of the finished plan that the constraint solver tries to better.</param>
public sealed record LoadEffort(ulong Seed, long Steps, int Chains = 2, int Rounds = 32, int Windows = 0);

/// <summary>How far a search is.</summary>
/// <param name="Round">Rounds finished.</param>
/// <param name="Rounds">Rounds in all.</param>
/// <param name="Cost">Cost of the best plan so far.</param>
/// <param name="Bound">No plan costs less.</param>
public readonly record struct LoadProgress(int Round, int Rounds, long Cost, long Bound);

/// <summary>
/// Plans oven loads: a constructive start at once, annealing in independent chains, windows of the result through the constraint solver.
/// </summary>
public static class LoadPlanner
{
    /// <summary>The constructive plan alone: milliseconds, used where an answer is wanted now.</summary>
    /// <param name="problem">The jobs and ovens.</param>
    public static LoadPlan First(LoadProblem problem) => Plan(problem, new(0, 0, 1, 1), null, CancellationToken.None);

    /// <summary>Plans a problem. Jobs that cannot be planned are left out with reasons, the others are planned.</summary>
    /// <param name="problem">The jobs and ovens.</param>
    /// <param name="effort">How long to search.</param>
    /// <param name="progress">Called after the start and after every round, on the caller's thread; may be null.</param>
    /// <param name="cancel">Ends the search; the best plan of the last finished round is returned.</param>
    /// <exception cref="ArgumentException">Matrices, families and ovens of the problem do not match.</exception>
    public static LoadPlan Plan(LoadProblem problem, LoadEffort effort, Action<LoadProgress>? progress, CancellationToken cancel)
    {
        var (plannable, leftOut) = LoadFaults.Find(problem);
        var (model, start, left) = Begin(problem, plannable, leftOut);
        var bound = LoadBounds.Of(model);
        progress?.Invoke(new(0, effort.Rounds, start.Cost, bound));
        var best = effort.Steps > 0 && model.N > 0 ? new LoadSearch(model, start, effort, bound, progress).Run(cancel) : start;
        var plan = new LoadPlan(best.ToLoads(), best.Cost, bound, left);
        return effort.Windows > 0 && !cancel.IsCancellationRequested ? LoadPolish.Improve(model, plan, effort, cancel) : plan;
    }

    private static (LoadModel Model, LoadState Start, IReadOnlyList<LeftOutJob> Left) Begin(
        LoadProblem problem,
        IReadOnlyList<int> plannable,
        IReadOnlyList<LeftOutJob> leftOut
    )
    {
        var model = new LoadModel(problem, plannable);
        var start = new LoadState(model);
        var unplaced = start.InsertByDue(true);
        if (unplaced.Count == 0)
            return (model, start, leftOut);
        var without = plannable.Except(unplaced.Select(j => model.JobAt[j])).ToArray();
        var reasons = unplaced.Select(j => new LeftOutJob(
            model.JobAt[j],
            $"{problem.Jobs[model.JobAt[j]].Id} cannot be planned, because the ovens for it have no time left."
        ));
        return Begin(problem, without, [.. leftOut, .. reasons]);
    }
}
