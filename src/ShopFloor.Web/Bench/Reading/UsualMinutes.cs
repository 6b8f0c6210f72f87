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
internal sealed class UsualMinutes
{
    // The newest are enough: hands get faster, and what was long ago says little.
    private const int Page = 400;

    // Of a coating that is sprayed seldom so many are looked for further back (common practice, no source).
    private const int Enough = 20;

    // One that was hardly ever used is not searched for through all the years.
    private const int MostPages = 20;

    private readonly ShopContext context;
    private readonly Dictionary<(StepKind, CoatingKind?), IReadOnlyList<double>> known = [];

    private UsualMinutes(ShopContext context) => this.context = context;

    /// <summary>The sheets with the usual minutes of their next step.</summary>
    internal static async Task<IReadOnlyList<PieceSheet>> AddToAsync(
        ShopContext context,
        OpenWork work,
        IReadOnlyList<PieceSheet> sheets,
        CancellationToken cancel
    )
    {
        var usually = new UsualMinutes(context);
        var with = new List<PieceSheet>();
        foreach (var sheet in sheets)
        {
            var next = work.Pieces.First(p => p.Code == sheet.Codes[0]).NextAttended;
            var usual = next is null || !next.Kind.NeedsHands() ? null : await usually.OfAsync(next.Settings, cancel);
            with.Add(usual is { Value.IsMeasured: true } ? sheet with { Usual = usual } : sheet);
        }
        return with;
    }

    /// <summary>The usual minutes of a step for one piece, or the recipe's own while too few were measured.</summary>
    private async Task<Explained<StepMinutes>?> OfAsync(RecipeStep step, CancellationToken cancel)
    {
        if (!known.TryGetValue((step.Kind, step.Coating), out var hands))
            known[(step.Kind, step.Coating)] = hands = TimeShares.Hands(
                await WorkJournal.ShareAsync(context, await RunsAsync(step, cancel), cancel)
            );
        var minutes = MeasuredMinutes.Of(hands, step.LengthSeconds / 60.0);
        return minutes.IsOk ? minutes.Value : null;
    }

    /// <summary>The newest runs of such a step with the same coating: what is sprayed stands in the step's numbers, which no database looks into.</summary>
    private async Task<IReadOnlyList<StepRun>> RunsAsync(RecipeStep step, CancellationToken cancel)
    {
        List<StepRun> found = [];
        for (var page = 0; page < MostPages; page++)
        {
            var done = await Done(step.Kind).Skip(page * Page).Take(Page).ToListAsync(cancel);
            found.AddRange(done.Where(r => r.Step.Coating == step.Coating));
            if (found.Count >= Enough || done.Count < Page)
                break;
        }
        return found;
    }

    private IQueryable<StepRun> Done(StepKind kind) =>
        from i in context.WorkItems.AsNoTracking()
        where i.Kind == kind && i.State == WorkState.Done && i.StartedAt != null && i.FinishedAt != null
        join p in context.Pieces.IgnoreAutoIncludes() on i.Piece equals p.Id
        where !p.IsTest
        orderby i.FinishedAt descending, i.Piece, i.Number
        select new StepRun(i.Piece, i.Settings, i.StartedAt!.Value, i.FinishedAt!.Value, i.Batch);
}
