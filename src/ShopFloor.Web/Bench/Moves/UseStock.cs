using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// Counted stock that the work itself takes, in the transaction of the move: a blank when a piece comes in, tape when its print is taped
/// on, a protective sheet for each press session. A workshop that does not keep the item is not stopped.
/// </summary>
internal static class UseStock
{
    /// <summary>Blanks that leave the shelf for pieces that came in.</summary>
    internal static async Task BlanksAsync(CommandWork work, IEnumerable<PieceId> pieces, CancellationToken cancel)
    {
        var ids = pieces.ToList();
        var lines = await LinesAsync(work, ids, cancel);
        var items = await work.Context.StockItems.Where(i => i.Kind == StockItem.Blank).ToListAsync(cancel);
        foreach (var id in ids)
            if (lines.TryGetValue(id, out var line) && !line.IsOwn && Blanks.Fitting(items, line) is { } blank)
                work.Move(blank, -blank.UsedEach, new StockCause(StockReason.Use, id));
    }

    /// <summary>Puts the blank of a piece that goes back unworked onto the shelf again.</summary>
    internal static async Task PutBackAsync(CommandWork work, Piece returned, CancellationToken cancel)
    {
        // A blank that work was begun on is no blank any more.
        if (returned.IsBegun)
            return;
        var piece = returned.Id;
        var moves = await work
            .Context.StockMoves.AsNoTracking()
            .Where(m => m.Piece == piece && m.Item != null && (m.Reason == StockReason.Use || m.Reason == StockReason.UseUndone))
            .ToListAsync(cancel);
        foreach (var used in moves.GroupBy(m => m.Item!))
        {
            var amount = -used.Sum(m => m.Amount);
            var item = await work.Context.StockItems.FirstOrDefaultAsync(i => i.Code == used.Key, cancel);
            if (item is { Kind: StockItem.Blank } && amount > 0)
                work.Move(item, amount, new StockCause(StockReason.UseUndone, piece));
        }
    }

    /// <summary>Tape of one piece.</summary>
    internal static Task TapeAsync(CommandWork work, PieceId piece, CancellationToken cancel) =>
        OneAsync(work, StockItem.Tape, new StockCause(StockReason.Use, piece), cancel);

    /// <summary>The protective sheet of a press session that is over: a used one ghosts, so each takes a fresh one.</summary>
    internal static Task SheetAsync(CommandWork work, Batch batch, CancellationToken cancel) =>
        batch.Kind == BatchKind.PressSession
            ? OneAsync(work, StockItem.Sheet, new StockCause(StockReason.Use, null, batch.Id), cancel)
            : Task.CompletedTask;

    private static async Task OneAsync(CommandWork work, string kind, StockCause cause, CancellationToken cancel)
    {
        // Of several items of a kind the first that is there is used up first; the count tells when it was another.
        var items = await work.Context.StockItems.Where(i => i.Kind == kind).OrderBy(i => i.Code).ToListAsync(cancel);
        if ((items.Find(i => i.OnHand > 0) ?? items.FirstOrDefault()) is { UsedEach: > 0 } item)
            work.Move(item, -item.UsedEach, cause);
    }

    private static async Task<Dictionary<PieceId, PieceDescription>> LinesAsync(
        CommandWork work,
        List<PieceId> ids,
        CancellationToken cancel
    )
    {
        var pieces = await work
            .Context.Pieces.Where(p => ids.Contains(p.Id))
            .Select(p => new
            {
                p.Id,
                p.Line,
                p.Order,
            })
            .ToListAsync(cancel);
        var orders = pieces.Select(p => p.Order).Distinct().ToList();
        var lines = (
            await work.Context.Orders.AsNoTracking().Where(o => orders.Contains(o.Id)).SelectMany(o => o.Lines).ToListAsync(cancel)
        ).ToDictionary(l => l.Id, l => l.Piece);
        return pieces.Where(p => lines.ContainsKey(p.Line)).ToDictionary(p => p.Id, p => lines[p.Line]);
    }
}
