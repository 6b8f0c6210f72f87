using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>
/// Leaves hands a part of every longest wait. A plan that uses a wait to its last second is overstepped as soon as the step before ends a few
/// seconds sooner than planned, or the step after begins a few seconds later.
/// </summary>
public static class WaitReserve
{
    /// <summary>Seconds of a longest wait that are kept at most (common practice, no source).</summary>
    public const int MostS = 180;

    /// <summary>A wait that is already running is planned to end within this many seconds at least, if it may (common practice, no source).</summary>
    public const int NearS = 300;

    /// <summary>One part of so many of a longest wait is kept, where that is less (common practice, no source).</summary>
    private const int Share = 5;

    /// <summary>
    /// A piece with shorter longest waits, for planning; the checks of the work itself go by the true ones. Kept are 180 s, a fifth of the wait, or half of what lies between
    /// shortest and longest rest, whichever is least. Of the wait that the piece is in, as much as can still be kept: with time it grows to its true length, so a plan stays
    /// as good as it was.
    /// </summary>
    /// <param name="piece">With its true limits.</param>
    /// <param name="usesRunning">Whether the wait that the piece is in may be used to its end from the beginning.</param>
    public static Piece Of(Piece piece, bool usesRunning = false) =>
        piece with
        {
            Route =
            [
                .. piece.Route.Select(
                    (step, i) =>
                        Waited(piece, i) is not { } since ? Of(step, null)
                        : usesRunning ? step
                        : Of(step, since)
                ),
            ],
        };

    /// <summary>A day all of whose pieces have shorter longest waits.</summary>
    /// <param name="day">With true limits.</param>
    /// <param name="usesRunning">Whether waits that run may be used to their end from the beginning.</param>
    public static Day Of(Day day, bool usesRunning = false) => day with { Pieces = [.. day.Pieces.Select(p => Of(p, usesRunning))] };

    /// <summary>How many pieces a plan leaves out that are in a wait with a limit that is not over: they can be finished in time now or not at all.</summary>
    /// <param name="day">The day that was planned.</param>
    /// <param name="plan">Its plan.</param>
    public static int LeftWaiting(Day day, Plan plan)
    {
        if (plan.LeftOut.Count == 0)
            return 0;
        var left = plan.LeftOut.Select(l => l.Piece).ToHashSet(StringComparer.Ordinal);
        return day.Pieces.Count(p => left.Contains(p.Id) && p.Route.Where((step, i) => Waited(p, i) <= Longest(step)).Any());
    }

    private static int? Longest(Step step) => step.Kind == StepKind.Rest ? step.MaxS : step.MaxWaitS;

    /// <summary>
    /// The first plan with reserve, unless a piece that waits now would be left out for it: then the waits that run may be used to their end, where
    /// that leaves out fewer. Better a wait without reserve than a piece that is given up.
    /// </summary>
    /// <param name="day">The day, with or without reserve of the waits that run; without is asked for only where it is needed.</param>
    /// <returns>The plan, the day that it is of, and whether a longer search should use the waits that run: the plan does, or leaves out pieces that wait.</returns>
    public static (Day Day, Plan Plan, bool UsesRunning) First(Func<bool, Day> day)
    {
        var kept = day(false);
        var plan = DayPlanner.First(kept);
        if (LeftWaiting(kept, plan) is not (> 0 and var left))
            return (kept, plan, false);
        var used = day(true);
        var other = DayPlanner.First(used);
        return LeftWaiting(used, other) < left ? (used, other, true) : (kept, plan, true);
    }

    /// <summary>Seconds since which the piece is in the wait that a step limits; null when it is not.</summary>
    private static int? Waited(Piece piece, int index) =>
        piece.LastEndS is { } end && index == (piece.Route[index].Kind == StepKind.Rest ? piece.Done : piece.Done - 1) ? -end : null;

    private static Step Of(Step step, int? waited) =>
        step.Kind == StepKind.Rest
            ? step with
            {
                MaxS = Less(step.MaxS, step.MinS, waited),
            }
            : step with
            {
                MaxWaitS = Less(step.MaxWaitS, 0, waited),
            };

    private static int? Less(int? longest, int shortest, int? waited)
    {
        if (longest is not { } most || most <= shortest)
            return longest;
        var less = most - Math.Min(MostS, Math.Min(most / Share, (most - shortest) / 2));
        return waited is { } since ? Math.Min(most, Math.Max(less, since + NearS)) : less;
    }
}
