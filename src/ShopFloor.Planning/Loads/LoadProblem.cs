namespace ShopFloor.Planning.Loads;

/// <summary>A span of whole seconds [From, To).</summary>
/// <param name="From">First second.</param>
/// <param name="To">First second that no longer belongs to it.</param>
public readonly record struct Span(int From, int To);

/// <summary>One piece (or tray, or published job) that must go through an oven once.</summary>
/// <param name="Id">Unique name.</param>
/// <param name="Family">Set-point family, from 0: only jobs of one family share a load.</param>
/// <param name="MinDwell">Shortest dwell in seconds, at least 1.</param>
/// <param name="MaxDwell">Longest dwell in seconds, at least <paramref name="MinDwell"/>.</param>
/// <param name="Release">Earliest second at which its load may start.</param>
/// <param name="Due">A load that ends after this second makes it late.</param>
/// <param name="Size">Share of an oven's capacity that it takes, at least 0.</param>
/// <param name="Weight">How much its lateness counts, at least 0.</param>
/// <param name="Ovens">The ovens that may take it, counted from 0.</param>
public sealed record LoadJob(
    string Id,
    int Family,
    int MinDwell,
    int MaxDwell,
    int Release,
    int Due,
    long Size,
    int Weight,
    IReadOnlyList<int> Ovens
);

/// <summary>One oven.</summary>
/// <param name="Id">Unique name.</param>
/// <param name="Capacity">Sum of the sizes that one load may hold.</param>
/// <param name="FirstFamily">The family whose set point it has at the start.</param>
/// <param name="Available">Sorted, disjoint times; a load and the set-up before it lie within one of them.</param>
public sealed record LoadOven(string Id, long Capacity, int FirstFamily, IReadOnlyList<Span> Available);

/// <summary>What a plan costs, as whole numbers.</summary>
/// <param name="Dwell">Per second of dwell of every load.</param>
/// <param name="SetupCost">Per unit of the set-up cost matrix.</param>
/// <param name="SetupTime">Per second of set-up.</param>
/// <param name="LateJob">Per job whose load ends after its due time.</param>
/// <param name="Lateness">Per second of lateness, times the job's weight.</param>
/// <param name="Load">Per load.</param>
public sealed record LoadWeights(long Dwell, long SetupCost, long SetupTime, long LateJob, long Lateness = 0, long Load = 0);

/// <summary>
/// Which jobs share a load, on which oven, in which order and when. A load holds jobs of one family within the oven's capacity; it dwells
/// for the longest of its jobs' shortest dwells, which must not be above the shortest of their longest; it starts when all are released.
/// </summary>
/// <param name="Jobs">The jobs.</param>
/// <param name="Ovens">The ovens, at most 64.</param>
/// <param name="Families">Number of families.</param>
/// <param name="SetupTimes">Seconds from family (row) to family (column).</param>
/// <param name="SetupCosts">Cost from family (row) to family (column).</param>
/// <param name="Weights">The objective.</param>
/// <param name="Room">A finer test than sizes of what an oven takes at once, such as the lay-out on its shelves; null when sizes say it all.</param>
public sealed record LoadProblem(
    IReadOnlyList<LoadJob> Jobs,
    IReadOnlyList<LoadOven> Ovens,
    int Families,
    int[,] SetupTimes,
    int[,] SetupCosts,
    LoadWeights Weights,
    Func<LoadRoom>? Room = null
);

/// <summary>
/// Says whether jobs go into an oven together; asked only for sets that keep the capacity by size. The answer must depend on the set
/// alone. Each search thread asks for its own.
/// </summary>
public abstract class LoadRoom
{
    /// <summary>True when the jobs go into the oven together.</summary>
    /// <param name="oven">The oven, counted from 0.</param>
    /// <param name="jobs">Positions of the jobs, in any order.</param>
    public abstract bool Fits(int oven, ReadOnlySpan<int> jobs);

    /// <summary>A quick test for the first plan: false may be wrong, true never is.</summary>
    /// <param name="oven">The oven, counted from 0.</param>
    /// <param name="jobs">Positions of the jobs, in any order.</param>
    public virtual bool FitsAtOnce(int oven, ReadOnlySpan<int> jobs) => Fits(oven, jobs);
}

/// <summary>One planned load.</summary>
/// <param name="Oven">The oven, counted from 0.</param>
/// <param name="Family">Family of its jobs.</param>
/// <param name="Start">First second of the dwell.</param>
/// <param name="End">Start plus dwell.</param>
/// <param name="Jobs">Positions of its jobs, ascending.</param>
public sealed record PlannedLoad(int Oven, int Family, int Start, int End, IReadOnlyList<int> Jobs);

/// <summary>A job that cannot be planned.</summary>
/// <param name="Job">Its position.</param>
/// <param name="Text">One plain sentence that says why.</param>
public sealed record LeftOutJob(int Job, string Text);

/// <summary>Loads by oven and start, with their cost.</summary>
/// <param name="Loads">The loads.</param>
/// <param name="Cost">Weighted objective of the planned jobs.</param>
/// <param name="Bound">No plan of these jobs costs less.</param>
/// <param name="LeftOut">Jobs that are in no load, with reasons.</param>
public sealed record LoadPlan(IReadOnlyList<PlannedLoad> Loads, long Cost, long Bound, IReadOnlyList<LeftOutJob> LeftOut);
