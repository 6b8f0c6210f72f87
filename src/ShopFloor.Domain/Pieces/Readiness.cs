namespace ShopFloor.Domain.Pieces;

/// <summary>How a piece stands for its customer.</summary>
/// <param name="State">Its state.</param>
/// <param name="HasStep">A step such as packing is left to do.</param>
public readonly record struct PieceStand(PieceState State, bool HasStep)
{
    /// <summary>True when it came out well and can be handed over as it lies there: nothing is left to do.</summary>
    public bool IsPacked => State == PieceState.CheckedGood && !HasStep;
}

/// <summary>
/// When pieces are good and an order is ready: the one rule for every list and message. Only the customer's pieces count; a test piece
/// stays in the workshop.
/// </summary>
public static class Readiness
{
    /// <summary>True when a piece of the customer has come out well: it lies there, packed or not, or it was handed over.</summary>
    public static bool IsGood(this PieceState state) => state is PieceState.CheckedGood or PieceState.HandedOver;

    /// <summary>How a piece stands.</summary>
    public static PieceStand Stand(this Piece piece) => new(piece.State, piece.Current is not null);

    /// <summary>True when everything of an order that is not over lies packed to be picked up.</summary>
    /// <param name="pieces">The customer's pieces.</param>
    public static bool IsReady(IReadOnlyCollection<PieceStand> pieces) =>
        pieces.Any(p => p.IsPacked) && pieces.All(p => p.IsPacked || p.State.IsEnd());

    /// <summary>True when everything of an order that is not over has come out well, and nothing but the packing is waited for.</summary>
    /// <param name="pieces">The customer's pieces.</param>
    public static bool IsStillToPack(IReadOnlyCollection<PieceStand> pieces) =>
        pieces.Any(p => p is { State: PieceState.CheckedGood, HasStep: true })
        && pieces.All(p => p.State == PieceState.CheckedGood || p.State.IsEnd());

    /// <summary>True when nothing of an order is left to make, to hand over or to call off, and the customer has something of it.</summary>
    /// <param name="states">Of the customer's pieces.</param>
    public static bool IsOver(IReadOnlyCollection<PieceState> states) =>
        states.Contains(PieceState.HandedOver) && states.All(s => s.IsEnd());
}
