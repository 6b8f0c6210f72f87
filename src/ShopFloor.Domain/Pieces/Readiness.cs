namespace ShopFloor.Domain.Pieces;

/// <summary>
/// When pieces are good and an order is ready: the one rule for every list and message. Only the customer's pieces count; a test piece
/// stays in the workshop.
/// </summary>
public static class Readiness
{
    /// <summary>True when a piece of the customer has come out well: it can be handed over, packed or not, or it was.</summary>
    public static bool IsGood(this PieceState state) => state is PieceState.CheckedGood or PieceState.HandedOver;

    /// <summary>True when everything of an order that is not over lies ready to be picked up.</summary>
    /// <param name="pieces">States of the customer's pieces.</param>
    public static bool IsReady(IReadOnlyCollection<PieceState> pieces) =>
        pieces.Contains(PieceState.CheckedGood) && pieces.All(s => s == PieceState.CheckedGood || s.IsEnd());

    /// <summary>True when something that has come out well cannot be handed over yet: a step such as packing is left.</summary>
    /// <param name="pieces">The customer's pieces.</param>
    public static bool IsStillToPack(IEnumerable<Piece> pieces) =>
        pieces.Any(p => p is { State: PieceState.CheckedGood, Current: not null });
}
