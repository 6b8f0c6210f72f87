namespace ShopFloor.Planning.Loads;

/// <summary>
/// The part of a problem that decides how many jobs are in time. Jobs that no load can bring in time are left out, the ovens end with the
/// last due second, and one more oven, open to all after that second, takes whatever is late anyway. So a search looks at the few loads
/// in time only, and a late job costs what it costs, wherever it will lie in the end.
/// </summary>
internal sealed class LoadsInTime
{
    /// <summary>A load of the oven for late jobs holds so many of the largest: few loads to choose from, each quickly priced.</summary>
    private const int LargestInALateLoad = 5;

    /// <summary>The last second of the oven for late jobs.</summary>
    private const int End = int.MaxValue / 2;

    private readonly LoadModel whole;

    private LoadsInTime(LoadModel whole, IReadOnlyList<int> jobs) =>
        (this.whole, Model) = (whole, new(ProblemOf(whole.Problem, jobs), jobs));

    /// <summary>The smaller problem; its last oven is the one for late jobs.</summary>
    public LoadModel Model { get; }

    /// <summary>
    /// The part of a problem, or null where there is none: no job can be in time, one is never late, or room is more than a sum of sizes.
    /// </summary>
    public static LoadsInTime? Of(LoadModel whole)
    {
        if (whole.Problem.Room is not null || whole.M >= LoadModel.MostOvens || whole.Due.Any(due => due >= End))
            return null;
        var jobs = Enumerable.Range(0, whole.N).Where(j => CanBeInTime(whole, j)).Select(j => whole.JobAt[j]).ToArray();
        return jobs.Length == 0 ? null : new(whole, jobs);
    }

    /// <summary>A plan of the smaller problem: jobs by due time, each where it costs least.</summary>
    public LoadState Start()
    {
        var start = new LoadState(Model);
        start.InsertByDue(false);
        return start;
    }

    /// <summary>
    /// The plan of the whole problem that keeps the loads in time, with all other jobs put where they cost least; null when the ovens have
    /// no time left for one of them.
    /// </summary>
    public LoadState? ToWhole(LoadState part)
    {
        var state = new LoadState(whole);
        foreach (var load in whole.Inside([.. part.ToLoads().Where(l => l.Oven < whole.M)]))
            state.Append(load);
        return state.InsertByDue(true).Count == 0 ? state : null;
    }

    private static bool CanBeInTime(LoadModel model, int j) =>
        model.OvensOf[j].Any(o => model.Problem.Ovens[o].Available.Any(s => InTime(model, j, s)));

    private static bool InTime(LoadModel model, int j, Span open) =>
        Math.Max(open.From, model.Release[j]) + (long)model.MinDwell[j] <= Math.Min(open.To, model.Due[j]);

    private static LoadProblem ProblemOf(LoadProblem problem, IReadOnlyList<int> jobs)
    {
        var last = jobs.Max(j => problem.Jobs[j].Due);
        var late = problem.Ovens.Count;
        var capacity = Math.Max(problem.Ovens.Max(o => o.Capacity), LargestInALateLoad * jobs.Max(j => problem.Jobs[j].Size));
        return problem with
        {
            Jobs = [.. problem.Jobs.Select(j => j with { Ovens = [.. j.Ovens, late] })],
            Ovens = [.. problem.Ovens.Select(o => o with { Available = Until(last, o.Available) }), Late(last, capacity)],
        };
    }

    private static LoadOven Late(int last, long capacity) => new("late", capacity, 0, [new(last + 1, End)]);

    private static Span[] Until(int last, IReadOnlyList<Span> open) =>
        [.. open.Where(s => s.From < last).Select(s => s with { To = Math.Min(s.To, last) })];
}
