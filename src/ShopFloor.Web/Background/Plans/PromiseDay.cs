using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Pieces that are being quoted.</summary>
/// <param name="Piece">What each is.</param>
/// <param name="Count">How many.</param>
/// <param name="Steps">Fitted to it.</param>
public sealed record NewPieces(PieceDescription Piece, int Count, IReadOnlyList<RecipeStep> Steps);

/// <summary>Says when pieces that are being quoted would honestly be ready, with the plan as it is and the reserve the owner keeps.</summary>
public sealed class PromiseDay(TimeProvider time) : IPageView
{
    /// <summary>The promise, UTC; null when they cannot be planned within the days looked ahead.</summary>
    public async Task<DateTimeOffset?> ForAsync(ShopContext context, IReadOnlyList<NewPieces> pieces, bool rush, CancellationToken cancel)
    {
        var shop = await ShopSnapshot.ReadAsync(context, time.GetUtcNow(), cancel);
        var far = shop.Seconds(shop.Now.AddDays(40));
        var asked = pieces
            .SelectMany(
                (p, line) =>
                    Enumerable.Range(1, p.Count).Select(n => DayPieces.Of(p, FormattableString.Invariant($"new-{line}-{n}"), far, shop))
            )
            .ToList();
        if (asked.Count == 0)
            return null;
        var day = DayFromShop.Make(shop, asked);
        var plan = DayPlanner.First(day);
        var ids = asked.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        if (plan.LeftOut.Any(l => ids.Contains(l.Piece)))
            return null;
        var end = plan.Tasks.Where(t => t.Piece is { } id && ids.Contains(id)).Max(t => t.EndS ?? 0);
        return PromiseRounding.Up(shop, end, rush);
    }
}
