namespace ShopFloor.Domain.Stock;

/// <summary>One can.</summary>
public sealed class Can
{
    private Can() { }

    /// <summary>A can that came in, full.</summary>
    public Can(CanId id, CoatingId coating, string code, string lot, decimal ml, DateOnly? useBy, DateTimeOffset at)
    {
        (Id, Coating, Code, Lot, FullMl, LeftMl, UseBy, CameAt) = (id, coating, code, lot, ml, ml, useBy, at);
    }

    /// <summary>Names it.</summary>
    public CanId Id { get; private set; }

    /// <summary>What is in it.</summary>
    public CoatingId Coating { get; private set; }

    /// <summary>Number on its label.</summary>
    public string Code { get; private set; } = "";

    /// <summary>The maker's lot.</summary>
    public string Lot { get; private set; } = "";

    /// <summary>When full, ml.</summary>
    public decimal FullMl { get; private set; }

    /// <summary>What is left, ml, by use and weighing.</summary>
    public decimal LeftMl { get; private set; }

    /// <summary>Last day it may be used, shop-local.</summary>
    public DateOnly? UseBy { get; private set; }

    /// <summary>When it came in, UTC.</summary>
    public DateTimeOffset CameAt { get; private set; }

    /// <summary>When first used, UTC.</summary>
    public DateTimeOffset? OpenedAt { get; private set; }

    /// <summary>Why it must not be used; null: it may.</summary>
    public string? HeldBecause { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Takes from it; a can gives what it has and no more, so the last pull may be short.</summary>
    /// <returns>What was really taken, ml.</returns>
    public Result<decimal> Take(decimal ml, DateTimeOffset at)
    {
        if (HeldBecause is { } why)
            return new Refusal("can-held", $"Can {Code} is held: {why}", "can");
        if (ml <= 0)
            return new Refusal("amount", "Take more than 0 ml.", "ml");
        var taken = Math.Min(ml, LeftMl);
        LeftMl -= taken;
        OpenedAt ??= at;
        Version++;
        return taken;
    }

    /// <summary>Gives back what was taken by a move that is undone.</summary>
    public void PutBack(decimal ml)
    {
        LeftMl = Math.Min(FullMl, LeftMl + ml);
        Version++;
    }

    /// <summary>What a weighing found.</summary>
    /// <returns>The correction, ml.</returns>
    public Result<decimal> Weigh(decimal leftMl)
    {
        if (leftMl < 0 || leftMl > FullMl * 1.05m)
            return new Refusal(
                "amount",
                string.Create(CultureInfo.InvariantCulture, $"A {FullMl:0} ml can cannot hold {leftMl:0.#} ml."),
                "ml"
            );
        var change = leftMl - LeftMl;
        LeftMl = leftMl;
        Version++;
        return change;
    }

    /// <summary>Bars it from use, with the reason; null: free again.</summary>
    public void Hold(string? because)
    {
        HeldBecause = because;
        Version++;
    }
}

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
);

/// <summary>Stock that is counted: paper, tape, blanks.</summary>
public sealed class StockItem
{
    private StockItem() { }

    /// <summary>An item.</summary>
    public StockItem(string code, string name, string kind, string unit, decimal onHand, decimal reorderAt, decimal price)
    {
        (Code, Name, Kind, Unit, OnHand, ReorderAt, Price) = (code, name, kind, unit, onHand, reorderAt, price);
    }

    /// <summary>Names it, e.g. <c>plate-100x60</c>.</summary>
    public string Code { get; private set; } = "";

    /// <summary>What people call it.</summary>
    public string Name { get; private set; } = "";

    /// <summary><c>blank</c>, <c>paper</c>, <c>tape</c> …</summary>
    public string Kind { get; private set; } = "";

    /// <summary>What is counted.</summary>
    public string Unit { get; private set; } = "piece";

    /// <summary>How much is there; may go below zero when a count was wrong.</summary>
    public decimal OnHand { get; private set; }

    /// <summary>Order again at or below this.</summary>
    public decimal ReorderAt { get; private set; }

    /// <summary>Purchase price of one unit, without tax.</summary>
    public decimal Price { get; private set; }

    /// <summary>Material, size and thickness of a blank as JSON of a piece description; empty for other stock.</summary>
    public string BlankJson { get; init; } = "";

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Changes what is there.</summary>
    public void Move(decimal amount)
    {
        OnHand += amount;
        Version++;
    }

    /// <summary>Changes price and reorder point.</summary>
    public Result<Done> Change(string name, decimal reorderAt, decimal price)
    {
        if (string.IsNullOrWhiteSpace(name) || name.Length > 80)
            return new Refusal("name-missing", "Give the item a name of at most 80 characters.", "name");
        if (reorderAt < 0 || price < 0)
            return new Refusal("out-of-range", "Reorder point and price are not below zero.", "price");
        (Name, ReorderAt, Price) = (name.Trim(), reorderAt, price);
        Version++;
        return default(Done);
    }
}
