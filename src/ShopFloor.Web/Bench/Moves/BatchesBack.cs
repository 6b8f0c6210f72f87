using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// Makes batches what their members are once a move was taken back: running again when that move had ended them, being put together when
/// none has begun, over when none runs. What runs again in a batch that somebody else has ended came out with it.
/// </summary>
internal static class BatchesBack
{
    /// <summary>Steps the batches back.</summary>
    /// <param name="work">The command.</param>
    /// <param name="undone">The command that was taken back.</param>
    /// <param name="ids">The batches its pieces were or are in.</param>
    /// <param name="cancel">Ends the reading.</param>
    /// <returns>Those that stay over although something of them runs; or why the move can no longer be taken back.</returns>
    internal static async Task<Result<IReadOnlyList<Batch>>> StepAsync(
        CommandWork work,
        Guid undone,
        HashSet<BatchId> ids,
        CancellationToken cancel
    )
    {
        var over = new List<Batch>();
        foreach (var batch in await work.Context.Batches.Where(b => ids.Contains(b.Id)).ToListAsync(cancel))
        {
            var items = (await RunBatch.MembersAsync(work, batch)).SelectMany(p => p.Items).Where(i => i.Batch == batch.Id).ToList();
            var runsAgain = batch.State is BatchState.Done or BatchState.Stopped && items.Exists(i => i.State == WorkState.Running);
            if (runsAgain && await EndedByAsync(work, batch, cancel) is { } ender && ender != undone)
            {
                over.Add(batch);
                continue;
            }
            if (runsAgain && await InItsPlaceAsync(work, batch, cancel) is { } other)
                return new Refusal("station-busy", $"{other} has begun where {batch.Code} was: this can no longer be taken back.");
            var notBegun = batch.State == BatchState.Running && items.Count == 0;
            var isOver = batch.State == BatchState.Running && items.Count > 0 && !items.Exists(i => i.State == WorkState.Running);
            var ended = items.Max(i => i.FinishedAt) ?? work.Now;
            if ((runsAgain || notBegun) ? batch.StepBack().IsOk : isOver && batch.Finish(ended, null, null).IsOk)
                work.Touch(Topic.Batch, batch.Id.Value);
        }
        return over;
    }

    /// <summary>What runs in a batch that is over came out when the others did, with what was read then; broken off, where they were.</summary>
    internal static async Task<Result<Done>> ComeOutAsync(CommandWork work, IReadOnlyList<Batch> over)
    {
        foreach (var batch in over)
        foreach (var piece in await RunBatch.MembersAsync(work, batch))
        {
            if (RunBatch.Running(piece, batch.Id) is not { } item || batch.FinishedAt is not { } at)
                continue;
            var why = $"came out with {batch.Code}";
            var answer =
                batch.State == BatchState.Stopped
                    ? work.Happen(piece, piece.BreakOff(item.Number, batch.Reason ?? why, at))
                    : work.Happen(piece, piece.Finish(item.Number, at, batch.Measured, why));
            if (!answer.IsOk)
                return Result<Done>.Refused(ManyMoves.Named(piece, answer.Refusals));
            if (item.State == WorkState.Done)
                await SprayStock.PostAsync(work, piece, item);
        }
        return default(Done);
    }

    // The last that took a member out of the batch before it was over; to take something back ends nothing.
    private static async Task<Guid?> EndedByAsync(CommandWork work, Batch batch, CancellationToken cancel)
    {
        var steps = batch.Places.ToDictionary(p => p.Piece, p => p.Step);
        var ids = steps.Keys.ToList();
        var entries = await work
            .Context.Journal.AsNoTracking()
            .Where(j => ids.Contains(j.Piece) && j.At >= batch.StartedAt && j.At <= batch.FinishedAt)
            .Where(j => !work.Context.Commands.Any(c => c.Id == j.Command && c.Name == nameof(UndoLast)))
            .OrderByDescending(j => j.Sequence)
            .ToListAsync(cancel);
        return entries.Find(j => Leaves(j, steps[j.Piece]))?.Command;
    }

    private static bool Leaves(JournalEntry entry, int step) =>
        entry.Read() switch
        {
            StepFinished finished => finished.Step == step,
            StepBrokenOff broken => broken.Step == step,
            ReworkBegun or PieceSpoiled or PieceReturned or PieceCalledOff => true,
            _ => false,
        };

    private static Task<string?> InItsPlaceAsync(CommandWork work, Batch batch, CancellationToken cancel) =>
        work
            .Context.Batches.Where(b => b.State == BatchState.Running && b.Station == batch.Station && b.Id != batch.Id)
            .Select(b => (string?)b.Code)
            .FirstOrDefaultAsync(cancel);
}
