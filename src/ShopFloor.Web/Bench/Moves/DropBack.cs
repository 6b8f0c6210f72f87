using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Takes back that a batch was given up before it began: it is put together as it was, while its pieces still wait for it.</summary>
internal static class DropBack
{
    /// <summary>Takes it back.</summary>
    /// <returns>What was done, or why it cannot be; null: the command gave no batch up.</returns>
    internal static async Task<Result<Moved>?> TakeBackAsync(CommandWork work, Guid command, CancellationToken cancel)
    {
        var answer = await work
            .Context.Commands.Where(c => c.Id == command && c.Name == nameof(DropBatch))
            .Select(c => c.ResultJson)
            .FirstOrDefaultAsync(cancel);
        if (answer is null || JsonSerializer.Deserialize<Moved>(answer, JsonForms.Default)?.Batch is not { } code)
            return null;
        var found = await FindBatch.ByCodeAsync(work, code);
        if (!found.IsOk)
            return Result<Moved>.Refused(found.Refusals);
        var batch = found.Value.Batch;
        var members = await RunBatch.MembersAsync(work, batch);
        if (await PutTogether.BusyAsync(work, batch, members) is { } busy)
            return busy;
        if (members.FirstOrDefault(p => !StillWaits(p, batch)) is { } gone)
            return new Refusal("moved-on", $"{gone.Code} has moved on since: put the others of {code} together anew.");
        work.Touch(Topic.Batch, batch.Id.Value);
        return batch.TakeUpAgain().Then<Moved>(_ => StartBatch.Say(batch, "is put together again"));
    }

    private static bool StillWaits(Piece piece, Batch batch) =>
        piece.State.IsUp()
        && piece.NextAttended is { State: not WorkState.Running } next
        && next.Number == batch.Places.First(p => p.Piece == piece.Id).Step;
}
