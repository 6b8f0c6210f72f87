using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Data;

/// <summary>A piece of an order as it stands.</summary>
public sealed record StandingPiece(PieceId Id, OrderId Order, PieceStand Stand);

/// <summary>Asks the database how pieces stand, for <see cref="Readiness"/>: without their steps, of which there are many.</summary>
public static class PieceStands
{
    /// <summary>How these pieces stand, as they are saved.</summary>
    public static IQueryable<StandingPiece> Standing(this IQueryable<Piece> pieces, ShopContext context) =>
        pieces.Select(p => new StandingPiece(
            p.Id,
            p.Order,
            new PieceStand(
                p.State,
                context.WorkItems.Any(i => i.Piece == p.Id && i.State != WorkState.Done && i.State != WorkState.Skipped)
            )
        ));

    /// <summary>
    /// Orders with a piece of the customer on which something is left to do, be it packing. Asked from the side of the pieces, whose index over the
    /// state is small where little is open, however many orders there are.
    /// </summary>
    public static IQueryable<OrderId> OrdersWithWorkLeft(this ShopContext context) =>
        context
            .Pieces.Where(p => OpenStates.Open.Contains(p.State) && !p.IsTest)
            .Where(p =>
                p.State != PieceState.CheckedGood
                || context.WorkItems.Any(i => i.Piece == p.Id && i.State != WorkState.Done && i.State != WorkState.Skipped)
            )
            .Select(p => p.Order);
}
