using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Pieces whose steps nobody can plan: booked before such steps were refused. Each is left out of the day by itself, for with one of them in
/// it the day could not be read, and the whole shop had no plan.</summary>
public static class FaultyPieces
{
    /// <summary>Why they are in no plan, in a few words.</summary>
    public const string InAWord = "steps that fit no plan";

    /// <summary>The snapshot without them.</summary>
    /// <param name="shop">The snapshot.</param>
    public static ShopSnapshot LeftOut(ShopSnapshot shop) =>
        shop.Pieces.Any(p => Reason(p) is not null) ? shop with { Pieces = [.. shop.Pieces.Where(p => Reason(p) is null)] } : shop;

    /// <summary>Those that could be worked on and are in no plan, with the number of their order and the reason.</summary>
    /// <param name="context">The database.</param>
    /// <param name="planned">Codes of the pieces that are in the plan's day.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static async Task<IReadOnlyList<(string Code, int Order, string Reason)>> ReadAsync(
        ShopContext context,
        IReadOnlySet<string> planned,
        CancellationToken cancel
    )
    {
        var codes = await context.Pieces.Where(p => OpenStates.Workable.Contains(p.State)).Select(p => p.Code).ToListAsync(cancel);
        codes.RemoveAll(planned.Contains);
        if (codes.Count == 0)
            return [];
        var pieces = await context.Pieces.AsNoTracking().Where(p => codes.Contains(p.Code)).OrderBy(p => p.Code).ToListAsync(cancel);
        var ids = pieces.Select(p => p.Order).Distinct().ToList();
        var numbers = await context.Orders.Where(o => ids.Contains(o.Id)).ToDictionaryAsync(o => o.Id, o => o.Number, cancel);
        return
        [
            .. pieces
                .Select(p => (p.Code, numbers[p.Order], Reason(p)))
                .Where(p => p.Item3 is not null)
                .Select(p => (p.Code, p.Item2, p.Item3!)),
        ];
    }

    /// <summary>Why a piece cannot be planned, or null.</summary>
    public static string? Reason(Piece piece)
    {
        var steps = piece.Items.OrderBy(i => i.Number).Select(i => i.Settings).ToList();
        for (var i = 0; i < steps.Count; i++)
            if (Fault(steps, i) is { } fault)
                return $"Not planned: {fault}. Call the piece off and book it anew.";
        return null;
    }

    private static string? Fault(List<RecipeStep> steps, int i)
    {
        var (step, number) = (steps[i], i + 1);
        if (step.Kind.IsRest() && (i == 0 || i == steps.Count - 1))
            return $"step {number} is a wait with nothing {(i == 0 ? "before" : "after")} it";
        if (step.Kind.IsRest() && steps[i - 1].Kind.IsRest())
            return $"steps {i} and {number} are two waits in a row";
        return (step.Kind.IsRest() || step.Kind.HasWindow()) && step.MaxSeconds < step.MinSeconds
            ? $"the longest time of step {number} is below its shortest"
            : null;
    }
}
