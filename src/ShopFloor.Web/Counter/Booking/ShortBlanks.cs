using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Of a line of the workshop's own pieces: fewer are free than it wants.</summary>
/// <param name="Here">How many of them are free for it.</param>
/// <param name="By">When the others can be here if they are ordered today.</param>
public sealed record ShortBlanks(int Here, DateOnly By)
{
    /// <summary>The lines that want more than there is, counted from 0. What is booked and waits for its blank has the first right to it.</summary>
    public static async Task<IReadOnlyDictionary<int, ShortBlanks>> OfAsync(
        ShopContext context,
        OrderInput order,
        ShopFacts shop,
        CancellationToken cancel
    )
    {
        var found = new Dictionary<int, ShortBlanks>();
        var wanted = order.Lines.Select(l => l.Piece.IsOwn ? null : Blanks.Fitting(shop.Items, l.Piece)).ToList();
        if (wanted.TrueForAll(w => w is null))
            return found;
        var free = await FreeAsync(context, shop, cancel);
        for (var i = 0; i < wanted.Count; i++)
        {
            if (wanted[i] is not { UsedEach: > 0 } blank)
                continue;
            // A quantity that makes no sense is refused elsewhere.
            var asked = Math.Max(0, order.Lines[i].Quantity);
            var here = (int)Math.Clamp(Math.Floor(free[blank.Code] / blank.UsedEach), 0, asked);
            free[blank.Code] -= asked * blank.UsedEach;
            if (here < asked)
                found[i] = new ShortBlanks(here, shop.Settings.Day(shop.At).AddDays(blank.LeadDays));
        }
        return found;
    }

    private static async Task<Dictionary<string, decimal>> FreeAsync(ShopContext context, ShopFacts shop, CancellationToken cancel)
    {
        var free = shop.Items.Where(i => i.Kind == StockItem.Blank || i.BlankJson.Length > 0).ToDictionary(i => i.Code, i => i.OnHand);
        var awaited = await context
            .Pieces.Where(p => p.State == PieceState.Booked && !p.IsOwn)
            .GroupBy(p => new { p.Order, p.Line })
            .Select(g => new
            {
                g.Key.Order,
                g.Key.Line,
                Count = g.Count(),
            })
            .ToListAsync(cancel);
        var ids = awaited.Select(a => a.Order).Distinct().ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id) && o.CancelledAt == null).ToListAsync(cancel);
        var lines = orders.SelectMany(o => o.Lines).ToDictionary(l => l.Id, l => l.Piece);
        foreach (var wait in awaited.Where(a => lines.TryGetValue(a.Line, out var line) && !line.IsOwn))
            if (Blanks.Fitting(shop.Items, lines[wait.Line]) is { } blank)
                free[blank.Code] -= wait.Count * blank.UsedEach;
        return free;
    }
}
