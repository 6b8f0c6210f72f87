using ShopFloor.Domain;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Commands;

/// <summary>What a stock move is for.</summary>
/// <param name="Reason">Why.</param>
/// <param name="Piece">For which piece.</param>
/// <param name="Batch">In which batch.</param>
/// <param name="Note">In a person's words.</param>
public readonly record struct StockCause(StockReason Reason, PieceId? Piece = null, BatchId? Batch = null, string Note = "");

/// <summary>Writes stock moves: every change of stock has one, in the save that changes the amount.</summary>
internal static class StockBook
{
    /// <summary>Writes what already happened to a can.</summary>
    internal static void Note(this CommandWork work, Can can, decimal amount, StockCause cause) =>
        Add(work, (can.Id, null), amount, cause, can.Id.Value);

    /// <summary>Changes a stock item and writes it.</summary>
    internal static void Move(this CommandWork work, StockItem item, decimal amount, StockCause cause)
    {
        item.Move(amount);
        Add(work, (null, item.Code), amount, cause, Guid.Empty);
    }

    private static void Add(CommandWork work, (CanId? Can, string? Item) of, decimal amount, StockCause cause, Guid told)
    {
        var id = new EntryId(Guid.CreateVersion7());
        work.Context.StockMoves.Add(
            new StockMove(id, work.Now, of.Can, of.Item, amount, cause.Reason, cause.Piece, cause.Batch, work.By)
            {
                Command = work.Command,
                Note = cause.Note,
            }
        );
        work.Touch(Topic.Stock, told);
    }
}
