using ShopFloor.Domain.Pieces;

namespace ShopFloor.Domain.Yield;

/// <summary>What a batch's time is shared by.</summary>
/// <param name="Members">Pieces in it, at least 1.</param>
/// <param name="SetUpSeconds">Of its time, what is spent once for all (the shake), seconds.</param>
public readonly record struct BatchShare(int Members, int SetUpSeconds);

/// <summary>A run with the part of its time that is this piece's.</summary>
/// <param name="Run">The run.</param>
/// <param name="Seconds">All time ÷ the pieces that shared it, seconds.</param>
/// <param name="WorkSeconds">The same without the set-up of the batch, seconds, at least 0.</param>
public readonly record struct TimeShare(StepRun Run, decimal Seconds, decimal WorkSeconds)
{
    /// <summary>False for handwork that was told by its end alone: nobody measured it.</summary>
    public bool IsMeasured => Run.To > Run.From;
}

/// <summary>
/// Shares measured time fairly: pieces of one batch, or pieces begun and ended by the same taps, were worked on together, so each carries
/// an equal part; the parts of all pieces add up to the time that really passed.
/// </summary>
public static class TimeShares
{
    /// <summary>Shares the time.</summary>
    /// <param name="runs">Runs of all pieces that may have been worked on together.</param>
    /// <param name="batch">What a batch is shared by; its members may lie outside <paramref name="runs"/>.</param>
    public static IReadOnlyList<TimeShare> Of(IReadOnlyList<StepRun> runs, Func<BatchId, BatchShare> batch)
    {
        var together = runs.Where(r => r.Batch is null).GroupBy(Taps).ToDictionary(g => g.Key, g => g.Count());
        return [.. runs.Select(r => r.Batch is { } id ? Shared(r, batch(id)) : Shared(r, new BatchShare(together[Taps(r)], 0)))];
    }

    private static (Recipes.StepKind, DateTimeOffset, DateTimeOffset) Taps(StepRun run) => (run.Step.Kind, run.From, run.To);

    private static TimeShare Shared(StepRun run, BatchShare by)
    {
        var seconds = (decimal)(run.To - run.From).TotalSeconds;
        var members = Math.Max(1, by.Members);
        return new TimeShare(run, seconds / members, Math.Max(0, seconds - by.SetUpSeconds) / members);
    }
}
