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
        var cans = await CansAsync(context, kind, default);
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

    /// <summary>All cans of a coating, whatever may be done with them.</summary>
    internal static Task<List<Can>> CansAsync(ShopContext context, CoatingKind kind, CancellationToken cancel) =>
        (
            from can in context.Cans
            join coating in context.Coatings on can.Coating equals coating.Id
            where coating.Kind == kind
            select can
        ).ToListAsync(cancel);

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

    /// <summary>
    /// The cans that these are wiped from, in their order: taken as they stand next, for nobody is asked; null where there is none, and the
    /// work goes on. What the first are given counts for those after them.
    /// </summary>
    internal static async Task<IReadOnlyList<Can?>> WipedFromAsync(
        ShopContext context,
        IReadOnlyList<WorkItem> items,
        DateOnly today,
        CancellationToken cancel
    )
    {
        var cans = new Dictionary<CoatingKind, List<Can>>();
        var given = new Dictionary<CanId, decimal>();
        var chosen = new List<Can?>();
        foreach (var item in items)
        {
            if (item.Can is { } taken)
                chosen.Add(await context.Cans.FirstOrDefaultAsync(c => c.Id == taken, cancel));
            else if (item is not { Kind: StepKind.Wipe, Settings: { Coating: { } kind, Ml: var ml } })
                chosen.Add(null);
            else
            {
                if (!cans.TryGetValue(kind, out var these))
                    cans[kind] = these = await CansAsync(context, kind, cancel);
                // Where by the books all of them are given out, the books are wrong: the next one as ever.
                var can = Can.FirstExpiring(these, ml, today, given) ?? Can.FirstExpiring(these, ml, today);
                if (can is not null)
                    given[can.Id] = given.GetValueOrDefault(can.Id) + ml;
                chosen.Add(can);
            }
        }
        return chosen;
    }

    /// <summary>The same for those who begin the work.</summary>
    internal static async Task<IReadOnlyList<CanId?>> WipedFromAsync(
        CommandWork work,
        IReadOnlyList<WorkItem> items,
        CancellationToken cancel
    )
    {
        if (!items.Any(i => i.Kind == StepKind.Wipe))
            return [.. items.Select(_ => (CanId?)null)];
        var today = (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Day(work.Now);
        return [.. (await WipedFromAsync(work.Context, items, today, cancel)).Select(c => c?.Id)];
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
