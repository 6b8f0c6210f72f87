using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Office.Costs;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>What hands usually take for a step, from the starts and ends at this Bench.</summary>
internal static class UsualMinutes
{
    // The newest are enough: hands get faster, and what was long ago says little.
    private const int Newest = 400;

    /// <summary>The sheets with the usual minutes of their next step.</summary>
    internal static async Task<IReadOnlyList<PieceSheet>> AddToAsync(
        ShopContext context,
        OpenWork work,
        IReadOnlyList<PieceSheet> sheets,
        CancellationToken cancel
    )
    {
        var with = new List<PieceSheet>();
        foreach (var sheet in sheets)
        {
            var next = work.Pieces.First(p => p.Code == sheet.Codes[0]).NextAttended;
            var usual = next is null || !next.Kind.NeedsHands() ? null : await OfAsync(context, next.Settings, cancel);
            with.Add(usual is { Value.IsMeasured: true } ? sheet with { Usual = usual } : sheet);
        }
        return with;
    }

    /// <summary>The usual minutes of a step for one piece, or the recipe's own while too few were measured.</summary>
    internal static async Task<Explained<StepMinutes>?> OfAsync(ShopContext context, RecipeStep step, CancellationToken cancel)
    {
        var done = await (
            from i in context.WorkItems.AsNoTracking()
            where i.Kind == step.Kind && i.State == WorkState.Done && i.StartedAt != null && i.FinishedAt != null
            join p in context.Pieces.IgnoreAutoIncludes() on i.Piece equals p.Id
            where !p.IsTest
            orderby i.FinishedAt descending
            select new
            {
                i.Piece,
                i.Settings,
                i.Batch,
                i.StartedAt,
                i.FinishedAt,
            }
        )
            .Take(Newest)
            .ToListAsync(cancel);
        var runs = done.Where(d => d.Settings.Coating == step.Coating)
            .Select(d => new StepRun(d.Piece, d.Settings, d.StartedAt!.Value, d.FinishedAt!.Value, d.Batch))
            .ToList();
        var shares = await WorkJournal.ShareAsync(context, runs, cancel);
        var minutes = MeasuredMinutes.Of(TimeShares.Hands(shares), step.LengthSeconds / 60.0);
        return minutes.IsOk ? minutes.Value : null;
    }
}
