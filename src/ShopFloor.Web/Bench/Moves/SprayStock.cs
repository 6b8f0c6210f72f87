using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Which can is sprayed from, and the millilitres that leave it, in the transaction of the move.</summary>
internal static class SprayStock
{
    /// <summary>The can to use: the named one, or of those that may be used and hold enough the first to expire.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="kind">The coating wanted.</param>
    /// <param name="code">Code of the can; null: choose.</param>
    /// <param name="ml">What is needed.</param>
    /// <param name="today">Shop-local day, for the use-by date.</param>
    internal static async Task<Result<Can>> ChooseAsync(ShopContext context, CoatingKind kind, string? code, decimal ml, DateOnly today)
    {
        var cans = await (
            from can in context.Cans
            join coating in context.Coatings on can.Coating equals coating.Id
            where coating.Kind == kind
            select can
        ).ToListAsync();
        if (code is not null)
            return cans.Find(c => string.Equals(c.Code, Chosen.Clean(code), StringComparison.OrdinalIgnoreCase)) is { } named
                ? named.Unusable(today) is { } why
                    ? why
                    : named
                : new Refusal("can-unknown", $"Can {code} is no can of {StepWords.Of(kind)}.", "can");
        return Can.FirstExpiring(cans, ml, today) is { } first
            ? first
            : new Refusal("can-missing", $"There is no usable can of {StepWords.Of(kind)}: book one in, or free one.", "can");
    }

    /// <summary>Takes what one piece's coat needs out of its can.</summary>
    internal static async Task PostAsync(CommandWork work, Piece piece, WorkItem item)
    {
        if (item.Can is not { } id)
            return;
        var can = await work.Context.Cans.FirstAsync(c => c.Id == id);
        if (item.Settings.Ml > 0)
            Take(work, can, item.Settings.Ml, StockReason.Use, piece.Id, item.Batch);
        else
            can.Open(work.Now);
    }

    /// <summary>
    /// Takes what a piece was sprayed with that leaves its round, or begins again, before the round is over. How much of its coat that was
    /// nobody knows, so the whole coat counts, until the can is weighed.
    /// </summary>
    internal static async Task PostBrokenOffAsync(CommandWork work, Piece piece)
    {
        foreach (var item in Sprayed(piece))
            await PostAsync(work, piece, item);
    }

    /// <summary>The steps of a piece at which a can is in use.</summary>
    internal static IReadOnlyList<WorkItem> Sprayed(Piece piece) =>
        [.. piece.Items.Where(i => i is { State: WorkState.Running, Can: not null })];

    /// <summary>The can that is wiped from: taken as it stands next, for nobody is asked; null where there is none, and the work goes on.</summary>
    internal static async Task<CanId?> WipedFromAsync(CommandWork work, WorkItem? item, CancellationToken cancel) =>
        item is { Kind: StepKind.Wipe }
            ? (
                await WipedFromAsync(
                    work.Context,
                    item,
                    (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Day(work.Now),
                    cancel
                )
            )?.Id
            : null;

    /// <summary>The same, for those who only look.</summary>
    internal static async Task<Can?> WipedFromAsync(ShopContext context, WorkItem item, DateOnly today, CancellationToken cancel)
    {
        if (item.Can is { } taken)
            return await context.Cans.FirstOrDefaultAsync(c => c.Id == taken, cancel);
        if (item.Settings.Coating is not { } kind)
            return null;
        var can = await ChooseAsync(context, kind, null, item.Settings.Ml, today);
        return can.IsOk ? can.Value : null;
    }

    /// <summary>Notes that a can turned out to be empty.</summary>
    internal static void Empty(CommandWork work, Can can, BatchId batch)
    {
        if (can.LeftMl > 0)
            Take(work, can, can.LeftMl, StockReason.Correction, null, batch);
    }

    private static void Take(CommandWork work, Can can, decimal ml, StockReason reason, PieceId? piece, BatchId? batch)
    {
        var taken = Math.Min(ml, can.LeftMl);
        // The coat is on the piece already, so it is counted even when the can was barred meanwhile; weighing asks no leave.
        var answer = can.HeldBecause is null && taken > 0 ? can.Take(taken, work.Now) : can.Weigh(can.LeftMl - taken);
        if (!answer.IsOk)
            throw new InvalidOperationException($"Can {can.Code} gave no {taken} ml: {answer.Refusals[0].Text}");
        work.Note(can, -taken, new StockCause(reason, piece, batch));
    }
}
