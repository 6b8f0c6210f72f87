using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Background.Sending;

/// <summary>What a command's moves mean for one order.</summary>
/// <param name="Order">Which.</param>
/// <param name="Before">How the customer's pieces stand as saved; a test piece is nobody's.</param>
/// <param name="After">As they will be saved.</param>
internal sealed record PieceTurns(OrderId Order, IReadOnlyList<PieceStand> Before, IReadOnlyList<PieceStand> After)
{
    /// <summary>True when a piece was packed and with it all that is left: what is lost or called off makes nothing ready.</summary>
    public bool BecameReady =>
        Readiness.IsReady(After) && !Readiness.IsReady(Before) && Before.Zip(After).Any(p => !p.First.IsPacked && p.Second.IsPacked);

    public bool NoLongerReady => Readiness.IsReady(Before) && !Readiness.IsReady(After);

    public bool BecameOver => IsOver(After) && !IsOver(Before);

    /// <summary>Compares the database with what the command changed.</summary>
    public static async Task<IReadOnlyList<PieceTurns>> OfAsync(
        ShopContext context,
        Dictionary<PieceId, Piece> moved,
        CancellationToken cancel
    )
    {
        if (moved.Count == 0)
            return [];
        var orders = moved.Values.Select(p => p.Order).Distinct().ToList();
        var saved = await context
            .Pieces.AsNoTracking()
            .Where(p => orders.Contains(p.Order) && !p.IsTest)
            .Standing(context)
            .ToListAsync(cancel);
        return
        [
            .. saved
                .GroupBy(p => p.Order)
                .Select(g => new PieceTurns(
                    g.Key,
                    [.. g.Select(p => p.Stand)],
                    [.. g.Select(p => moved.TryGetValue(p.Id, out var piece) ? piece.Stand() : p.Stand)]
                )),
        ];
    }

    private static bool IsOver(IReadOnlyList<PieceStand> pieces) =>
        pieces.Any(p => p.State == PieceState.HandedOver) && pieces.All(p => p.State.IsEnd());
}
