namespace ShopFloor.Planning.Loads;

/// <summary>What the constraint solver found out about a small problem.</summary>
/// <param name="Plan">The given plan or a better one.</param>
/// <param name="Proven">True when no plan costs less.</param>
/// <param name="Bound">No plan costs less than this.</param>
public sealed record LoadProof(LoadPlan Plan, bool Proven, long Bound)
{
    /// <summary>
    /// Starts the constraint solver from a plan and lets it search for a better one or the proof that there is none. For small problems
    /// (up to about 30 jobs); several workers prove more, and are not repeatable in which of equal plans they find.
    /// </summary>
    /// <param name="problem">The problem; capacity by size only.</param>
    /// <param name="plan">A plan of it.</param>
    /// <param name="seconds">Time limit of the solver.</param>
    /// <param name="workers">Solver threads.</param>
    /// <param name="cancel">Ends the search early.</param>
    /// <exception cref="ArgumentException">The problem has a finer test of room than sizes, which the solver does not know.</exception>
    public static LoadProof Search(LoadProblem problem, LoadPlan plan, double seconds, int workers, CancellationToken cancel)
    {
        if (problem.Room is not null)
            throw new ArgumentException("A proof needs capacity by size.", nameof(problem));
        var outside = plan.LeftOut.Select(l => l.Job).ToHashSet();
        var jobs = LoadFaults.Find(problem).Plannable.Where(j => !outside.Contains(j)).ToArray();
        var model = new LoadModel(problem, jobs);
        var thorough = LoadBounds.Thorough(model, cancel);
        if (plan.Cost == thorough)
            return new(plan with { Bound = thorough }, true, thorough);
        var solver = new LoadSolver(model, LoadWindow.Whole(model));
        var text = string.Create(CultureInfo.InvariantCulture, $"max_time_in_seconds:{seconds},num_workers:{workers},random_seed:1");
        var (loads, proven, bound) = solver.Solve(model.Inside(plan.Loads), text, cancel);
        var better = loads is null ? plan : LoadPolish.Better(model, plan, loads);
        var least = Math.Max(thorough, proven ? better.Cost : (long)Math.Max(0, Math.Ceiling(bound - 1e-3)));
        return new(better with { Bound = least }, proven || better.Cost == least, least);
    }
}
