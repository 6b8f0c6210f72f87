using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;

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
        var done = await context
            .WorkItems.AsNoTracking()
            .Where(i => i.Kind == step.Kind && i.State == WorkState.Done && i.FinishedAt != null)
            .OrderByDescending(i => i.FinishedAt)
            .Take(Newest)
            .Select(i => new
            {
                i.Settings,
                i.Batch,
                i.StartedAt,
                i.FinishedAt,
            })
            .ToListAsync(cancel);
        var samples = AttendedMinutes.Of(
            done.Where(d => d.StartedAt is not null && d.Settings.Coating == step.Coating)
                .Select(d => new DoneStep(step.Kind, step.Coating, d.Batch, d.StartedAt!.Value, d.FinishedAt!.Value))
        );
        var minutes = MeasuredMinutes.Of([.. samples.Select(s => s.MinutesEach).Where(m => m <= 10_000)], step.LengthSeconds / 60.0);
        return minutes.IsOk ? minutes.Value : null;
    }
}
