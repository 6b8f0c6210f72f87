using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Yield;

/// <summary>An attended step of one piece as the journal knows it.</summary>
/// <param name="Kind">What was done.</param>
/// <param name="Coating">With which coating; null where there is none.</param>
/// <param name="Batch">The round it was part of; null: by hand, alone or with others of its tray.</param>
/// <param name="StartedAt">When it began, UTC.</param>
/// <param name="FinishedAt">When it ended, UTC, not before its start.</param>
public readonly record struct DoneStep(
    StepKind Kind,
    CoatingKind? Coating,
    BatchId? Batch,
    DateTimeOffset StartedAt,
    DateTimeOffset FinishedAt
);

/// <summary>One measurement of hands' time.</summary>
/// <param name="Kind">What was done.</param>
/// <param name="Coating">With which coating.</param>
/// <param name="MinutesEach">Minutes for one piece, above 0.</param>
/// <param name="Pieces">How many pieces shared the time.</param>
/// <param name="At">When it ended, UTC.</param>
public readonly record struct AttendedSample(StepKind Kind, CoatingKind? Coating, double MinutesEach, int Pieces, DateTimeOffset At);

/// <summary>
/// What starts and ends say about the minutes of hands for one piece. Pieces that began together (one tray, one round) were worked one
/// after another: the time from the beginning, or from the end of those before, to an end is shared by the pieces that ended then. So a
/// round of 12 in 8 minutes is 40 s each, and a tray of 12 that ends in two parts is never counted twice.
/// </summary>
public static class AttendedMinutes
{
    /// <summary>The measurements, oldest first. Steps nobody attends, and ends told without a beginning, say nothing and are left out.</summary>
    /// <param name="done">Finished steps that still count, in any order.</param>
    public static IReadOnlyList<AttendedSample> Of(IEnumerable<DoneStep> done) =>
        [
            .. done.Where(d => d.Kind.NeedsHands() && d.FinishedAt > d.StartedAt)
                .GroupBy(d => (d.Kind, d.Coating, d.Batch, d.StartedAt))
                .SelectMany(together => Shared(together.Key.StartedAt, together))
                .OrderBy(s => s.At)
                .ThenBy(s => s.Kind)
                .ThenBy(s => s.Coating),
        ];

    private static IEnumerable<AttendedSample> Shared(DateTimeOffset began, IEnumerable<DoneStep> together)
    {
        var from = began;
        foreach (var ended in together.GroupBy(d => d.FinishedAt).OrderBy(g => g.Key))
        {
            var count = ended.Count();
            var first = ended.First();
            yield return new AttendedSample(first.Kind, first.Coating, (ended.Key - from).TotalMinutes / count, count, ended.Key);
            from = ended.Key;
        }
    }
}
