namespace ShopFloor.Planning.Loads;

/// <summary>How long to search; the answer depends on these numbers and on the problem, not on the machine.</summary>
/// <param name="Seed">Fixes the random choices.</param>
/// <param name="Steps">Changes tried by each chain.</param>
/// <param name="Chains">Independent searches, run side by side; the best counts, ties go to the first.</param>
public sealed record LoadEffort(ulong Seed, long Steps, int Chains = 2);

/// <summary>Plans oven loads.</summary>
public static class LoadPlanner
{
    /// <summary>Plans a problem.</summary>
    /// <param name="problem">The jobs and ovens.</param>
    /// <param name="effort">How long to search.</param>
    /// <param name="progress">Told the cost of the best plan from time to time; may be null.</param>
    /// <param name="cancel">Ends the search early with the best plan so far.</param>
    public static LoadPlan Plan(LoadProblem problem, LoadEffort effort, Action<long>? progress, CancellationToken cancel)
    {
        var model = new LoadModel(problem, [.. Enumerable.Range(0, problem.Jobs.Count)]);
        var start = new LoadState(model);
        foreach (var j in Enumerable.Range(0, model.N).OrderBy(j => model.Due[j]).ThenBy(j => j))
            start.Insert(j, false);
        progress?.Invoke(start.Cost);
        var chains = new LoadAnnealing[effort.Chains];
        for (var c = 0; c < chains.Length; c++)
            chains[c] = new(model, start, effort.Seed * 1000 + (ulong)c);
        var hot = Hot * Math.Max(1, model.LatePrice + model.DwellPrice * 5);
        var cold = Cold * Math.Max(1, model.DwellPrice);
        Parallel.For(0, chains.Length, c => chains[c].Run(0, effort.Steps, effort.Steps, hot, cold, cancel));
        var best = chains.MinBy(c => c.Best.Cost)!.Best;
        return new(best.ToLoads(), best.Cost, []);
    }

    /// <summary>Tuning.</summary>
    public static double Hot { get; set; } = 0.2;

    /// <summary>Tuning.</summary>
    public static double Cold { get; set; } = 0.1;
}
