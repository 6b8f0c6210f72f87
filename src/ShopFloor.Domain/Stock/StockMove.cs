namespace ShopFloor.Domain.Stock;

/// <summary>Why stock changed.</summary>
public enum StockReason
{
    /// <summary>It came in.</summary>
    Delivery,

    /// <summary>Used for a piece or a batch.</summary>
    Use,

    /// <summary>An undone use.</summary>
    UseUndone,

    /// <summary>Found by weighing or counting.</summary>
    Correction,

    /// <summary>Thrown away.</summary>
    Waste,
}

/// <summary>One change of stock; never edited.</summary>
/// <param name="Id">Names it.</param>
/// <param name="At">When, UTC.</param>
/// <param name="Can">Which can; null for other stock.</param>
/// <param name="Item">Code of the stock item; null for cans.</param>
/// <param name="Amount">Change, in the item's unit or ml; negative when it went out.</param>
/// <param name="Reason">Why.</param>
/// <param name="Piece">For which piece.</param>
/// <param name="Batch">In which batch.</param>
/// <param name="By">Worker id.</param>
public sealed record StockMove(
    EntryId Id,
    DateTimeOffset At,
    CanId? Can,
    string? Item,
    decimal Amount,
    StockReason Reason,
    PieceId? Piece,
    BatchId? Batch,
    string By
)
{
    /// <summary>The command that posted it; empty for moves older than this column.</summary>
    public Guid Command { get; init; }

    /// <summary>In a person's words; may be empty.</summary>
    public string Note { get; init; } = "";
}
