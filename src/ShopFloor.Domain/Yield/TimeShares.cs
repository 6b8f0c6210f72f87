using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Yield;

/// <summary>What a batch's time is shared by.</summary>
/// <param name="Members">Pieces in it, at least 1.</param>
/// <param name="SetUpSeconds">Of its time, what is spent once for all (the shake), seconds.</param>
public readonly record struct BatchShare(int Members, int SetUpSeconds);

/// <summary>A run with the part of its time that is this piece's.</summary>
/// <param name="Run">The run.</param>
/// <param name="Seconds">Its part of the time, seconds.</param>
/// <param name="WorkSeconds">The same without the set-up of the batch, seconds, at least 0.</param>
public readonly record struct TimeShare(StepRun Run, decimal Seconds, decimal WorkSeconds)
{
    /// <summary>False for handwork that was told by its end alone: nobody measured it.</summary>
    public bool IsMeasured => Run.To > Run.From;
}

/// <summary>
/// Shares measured time fairly. Pieces of one batch carry an equal part of its time. Pieces begun together by hand (one tray) were worked one
/// after another: the time from the beginning, or from the end of those before, to an end is shared by the pieces that ended then. So the
/// parts of all pieces add up to the time that really passed, and a tray of 12 that ends in two parts is never counted twice.
/// </summary>
public static class TimeShares
{
    /// <summary>Longer times are forgotten ends, not work.</summary>
    private const double MostMinutes = 10_000;

    /// <summary>Shares the time.</summary>
    /// <param name="runs">Runs of all pieces that may have been worked on together.</param>
    /// <param name="batch">What a batch is shared by; its members may lie outside <paramref name="runs"/>.</param>
    public static IReadOnlyList<TimeShare> Of(IReadOnlyList<StepRun> runs, Func<BatchId, BatchShare> batch)
    {
        var together = runs.Where(r => r.Batch is null).GroupBy(Begun).ToDictionary(g => g.Key, g => Parts([.. g]));
        return [.. runs.Select(r => r.Batch is { } id ? Shared(r, batch(id)) : Alone(r, together[Begun(r)][r.To]))];
    }

    /// <summary>Minutes of hands for one piece, of those shares that were measured: the one number that prices, plans and the Bench go by.</summary>
    public static IReadOnlyList<double> Hands(IEnumerable<TimeShare> shares) =>
        [
            .. shares
                .Where(s => s.IsMeasured && s.Run.Step.Kind.NeedsHands())
                .Select(s => (double)s.WorkSeconds / 60)
                .Where(m => m <= MostMinutes),
        ];

    private static (StepKind, CoatingKind?, DateTimeOffset) Begun(StepRun run) => (run.Step.Kind, run.Step.Coating, run.From);

    private static Dictionary<DateTimeOffset, decimal> Parts(IReadOnlyList<StepRun> together)
    {
        var (parts, from) = (new Dictionary<DateTimeOffset, decimal>(), together[0].From);
        foreach (var ended in together.GroupBy(r => r.To).OrderBy(g => g.Key))
        {
            parts[ended.Key] = (decimal)(ended.Key - from).TotalSeconds / ended.Count();
            // What nobody attends goes on for all at once.
            if (together[0].Step.Kind.NeedsHands())
                from = ended.Key;
        }
        return parts;
    }

    private static TimeShare Alone(StepRun run, decimal seconds) => new(run, seconds, seconds);

    private static TimeShare Shared(StepRun run, BatchShare by)
    {
        var seconds = (decimal)(run.To - run.From).TotalSeconds;
        var members = Math.Max(1, by.Members);
        return new TimeShare(run, seconds / members, Math.Max(0, seconds - by.SetUpSeconds) / members);
    }
}
