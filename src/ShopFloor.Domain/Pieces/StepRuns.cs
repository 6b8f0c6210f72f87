using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>One time that a step of a piece was worked on, as the journal tells; a rework gives a second run of the same step.</summary>
/// <param name="Piece">Whose step.</param>
/// <param name="Step">Its settings as booked.</param>
/// <param name="From">Begin, UTC.</param>
/// <param name="To">End, or when it was broken off, UTC.</param>
/// <param name="Batch">The round, load or session it was part of.</param>
public sealed record StepRun(PieceId Piece, RecipeStep Step, DateTimeOffset From, DateTimeOffset To, BatchId? Batch);

/// <summary>What the journal of a piece tells of the time its steps took.</summary>
public static class StepRuns
{
    /// <summary>The events that count: entries that were taken back, and the entries that took them back, are left out.</summary>
    /// <param name="journal">A piece's entries in order.</param>
    public static IReadOnlyList<PieceEvent> Counting(IReadOnlyList<(EntryId Id, PieceEvent Event)> journal)
    {
        var undone = journal.Select(j => j.Event).OfType<MovesUndone>().SelectMany(u => u.Entries).ToHashSet();
        return [.. journal.Where(j => j.Event is not MovesUndone && !undone.Contains(j.Id)).Select(j => j.Event)];
    }

    /// <summary>The runs of a piece's steps in order of their ends; a step that still runs has none yet.</summary>
    /// <param name="piece">The piece.</param>
    /// <param name="counting">Its events that count, in order.</param>
    public static IReadOnlyList<StepRun> Of(PieceId piece, IReadOnlyList<PieceEvent> counting)
    {
        var steps = new Dictionary<int, RecipeStep>();
        var begun = new Dictionary<int, StepStarted>();
        var runs = new List<StepRun>();
        void End(int step, DateTimeOffset at)
        {
            if (begun.Remove(step, out var start) && steps.TryGetValue(step, out var settings))
                runs.Add(new StepRun(piece, settings, start.At, at < start.At ? start.At : at, start.Batch));
        }
        foreach (var happened in counting)
            switch (happened)
            {
                case PieceBooked booked:
                    steps = booked.Steps.ToDictionary(s => s.Number);
                    break;
                case StepStarted start:
                    begun[start.Step] = start;
                    break;
                case StepFinished end:
                    End(end.Step, end.At);
                    break;
                case StepBrokenOff broken:
                    End(broken.Step, broken.At);
                    break;
            }
        return runs;
    }
}
