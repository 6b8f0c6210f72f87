using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Clerk;

/// <summary>An order that can be repeated.</summary>
public sealed record OrderHit(OrderId Id, int Number, string Name, string What);

/// <summary>An entry that is not booked yet.</summary>
public sealed record DraftHit(Guid Id, string Name, DateTimeOffset At);

/// <summary>What a clerk is offered.</summary>
public sealed record ClerkFound(IReadOnlyList<OrderHit> Orders, IReadOnlyList<DraftHit> Drafts);

/// <summary>Finds earlier orders by name or number, the last ones first, and entries that were put by.</summary>
public sealed class ClerkView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int Most = 12;

    public async Task<ClerkFound> RunAsync(string text, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var number = int.TryParse(text, CultureInfo.InvariantCulture, out var n) ? n : -1;
        // SQLite compares letters beyond ASCII only as they are written, so names are compared here.
        var names = await context
            .Orders.AsNoTracking()
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.Contact.Name,
            })
            .ToListAsync(cancel);
        var ids = names
            .Where(o => o.Number == number || o.Name.Contains(text, StringComparison.CurrentCultureIgnoreCase))
            .OrderByDescending(o => o.Number)
            .Take(Most)
            .Select(o => o.Id)
            .ToList();
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var since = time.GetUtcNow().AddDays(-7);
        var drafts = await context
            .Drafts.AsNoTracking()
            .Where(d => d.Kind == KeptOrder.Kind && d.WipedAt == null && d.BecameOrder == null && d.ChangedAt > since)
            .OrderByDescending(d => d.ChangedAt)
            .Take(Most)
            .ToListAsync(cancel);
        return new ClerkFound(
            [.. orders.OrderByDescending(o => o.Number).Select(o => new OrderHit(o.Id, o.Number, o.Contact.Name, What(o, settings)))],
            [.. drafts.Select(d => new DraftHit(d.Id, KeptOrder.Of(d).Entry.Name, TimeZoneInfo.ConvertTime(d.ChangedAt, settings.Zone)))]
        );
    }

    private static string What(Order order, CurrentSettings settings) =>
        string.Join("; ", order.Lines.Select(l => $"{l.Quantity} × {settings.Material(l.Piece.Material).Name} {SizeEcho.Face(l.Piece)}"));
}
