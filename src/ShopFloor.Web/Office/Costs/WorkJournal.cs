using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Web.Office.Costs;

/// <summary>The journals of some pieces, read: what counts of each, and its share of the time.</summary>
internal sealed class WorkJournal
{
    private WorkJournal(IReadOnlyDictionary<PieceId, IReadOnlyList<PieceEvent>> events, ILookup<PieceId, TimeShare> shares) =>
        (Events, Shares) = (events, shares);

    /// <summary>The events that count, in order.</summary>
    public IReadOnlyDictionary<PieceId, IReadOnlyList<PieceEvent>> Events { get; }

    /// <summary>The runs of its steps.</summary>
    public ILookup<PieceId, TimeShare> Shares { get; }

    /// <summary>Reads them.</summary>
    /// <param name="context">Where.</param>
    /// <param name="pieces">Which pieces.</param>
    /// <param name="cancel">Ends the read.</param>
    public static async Task<WorkJournal> LoadAsync(ShopContext context, IQueryable<Piece> pieces, CancellationToken cancel)
    {
        var ids = pieces.Select(p => p.Id);
        var entries = await context.Journal.AsNoTracking().Where(j => ids.Contains(j.Piece)).OrderBy(j => j.Sequence).ToListAsync(cancel);
        var events = entries.GroupBy(e => e.Piece).ToDictionary(g => g.Key, Counting);
        var runs = events.SelectMany(e => StepRuns.Of(e.Key, e.Value)).ToList();
        return new WorkJournal(events, (await ShareAsync(context, runs, cancel)).ToLookup(s => s.Run.Piece));
    }

    /// <summary>Shares the time of runs among the pieces that were worked on together.</summary>
    public static async Task<IReadOnlyList<TimeShare>> ShareAsync(
        ShopContext context,
        IReadOnlyList<StepRun> runs,
        CancellationToken cancel
    )
    {
        var ids = runs.Select(r => r.Batch).OfType<BatchId>().Distinct().ToList();
        var batches = (
            await context
                .Batches.AsNoTracking()
                .Where(b => ids.Contains(b.Id))
                .Select(b => new
                {
                    b.Id,
                    b.Places,
                    b.Settings,
                })
                .ToListAsync(cancel)
        ).ToDictionary(b => b.Id, b => new BatchShare(b.Places.Count, b.Settings.ShakeSeconds));
        return TimeShares.Of(runs, id => batches.GetValueOrDefault(id, new BatchShare(1, 0)));
    }

    private static IReadOnlyList<PieceEvent> Counting(IEnumerable<JournalEntry> entries) =>
        StepRuns.Counting([.. entries.Select(e => (e.Id, e.Read()))]);
}
