using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Which orders to list.</summary>
public enum OrderFilter
{
    /// <summary>Something is still to be done.</summary>
    Open,

    /// <summary>All pieces are checked good: waiting for the customer.</summary>
    Ready,

    /// <summary>The promise is over and something is still open.</summary>
    Late,

    /// <summary>Every piece has reached its end.</summary>
    Closed,

    /// <summary>All.</summary>
    All,
}

/// <summary>How the list is sorted.</summary>
public enum OrderSort
{
    /// <summary>Newest first.</summary>
    Newest,

    /// <summary>Nearest promise first.</summary>
    Promise,

    /// <summary>By name.</summary>
    Name,
}

/// <summary>One order in the list.</summary>
public sealed record OrderRow(
    OrderId Id,
    int Number,
    string Name,
    DateTimeOffset BookedAt,
    DateTimeOffset PromisedAt,
    bool IsRush,
    bool IsCancelled,
    IReadOnlyList<(PieceState State, int Count)> Pieces
)
{
    /// <summary>True when something is still to be done.</summary>
    public bool IsOpen => Pieces.Any(p => !p.State.IsEnd() && p.State != PieceState.CheckedGood);
}

/// <summary>A page of the list.</summary>
public sealed record OrderPage(IReadOnlyList<OrderRow> Rows, int Count, int Page, int Pages, TimeZoneInfo Zone)
{
    /// <summary>An instant in the shop's own time.</summary>
    public DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, Zone).DateTime;
}

/// <summary>The order list: searched, filtered, sorted and cut into pages by the database.</summary>
public sealed class OrderListView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Orders on a page.</summary>
    public const int PageSize = 50;

    private static readonly PieceState[] Unfinished =
    [
        PieceState.Booked,
        PieceState.Received,
        PieceState.InWork,
        PieceState.Held,
        PieceState.Reworking,
    ];

    /// <summary>One page.</summary>
    /// <param name="search">Part of a name, an order's number or a piece's code; empty: all.</param>
    /// <param name="filter">Which.</param>
    /// <param name="sort">How sorted.</param>
    /// <param name="page">From 1; beyond the last page: the last.</param>
    /// <param name="cancel">Ends the query.</param>
    public async Task<OrderPage> LoadAsync(string? search, OrderFilter filter, OrderSort sort, int page, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = Filtered(context, Searched(context, (search ?? "").Trim()), filter);
        var count = await found.CountAsync(cancel);
        var pages = Math.Max(1, (count + PageSize - 1) / PageSize);
        page = Math.Clamp(page, 1, pages);
        var rows = await Sorted(found, sort)
            .Skip((page - 1) * PageSize)
            .Take(PageSize)
            .Select(o => new
            {
                o.Id,
                o.Number,
                o.Contact.Name,
                o.BookedAt,
                o.PromisedAt,
                o.IsRush,
                o.CancelledAt,
            })
            .ToListAsync(cancel);
        var ids = rows.Select(r => r.Id).ToList();
        var states = await context
            .Pieces.Where(p => ids.Contains(p.Order))
            .GroupBy(p => new { p.Order, p.State })
            .Select(g => new
            {
                g.Key.Order,
                g.Key.State,
                Count = g.Count(),
            })
            .ToListAsync(cancel);
        var byOrder = states.ToLookup(s => s.Order, s => (s.State, s.Count));
        return new OrderPage(
            [
                .. rows.Select(r => new OrderRow(
                    r.Id,
                    r.Number,
                    r.Name,
                    r.BookedAt,
                    r.PromisedAt,
                    r.IsRush,
                    r.CancelledAt is not null,
                    [.. byOrder[r.Id].OrderBy(s => s.State)]
                )),
            ],
            count,
            page,
            pages,
            (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone
        );
    }

    private static IQueryable<Order> Searched(ShopContext context, string search)
    {
        var orders = context.Orders.AsNoTracking();
        if (search.Length == 0)
            return orders;
        if (int.TryParse(search, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
            return orders.Where(o => o.Number == number);
        if (ShortCode.Read(search) is { IsOk: true } code)
        {
            var holders = context.Pieces.Where(p => p.Code == code.Value || p.Tray == code.Value).Select(p => p.Order);
            return orders.Where(o => holders.Contains(o.Id));
        }
        var pattern =
            $"%{search.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("%", "\\%", StringComparison.Ordinal).Replace("_", "\\_", StringComparison.Ordinal)}%";
        return orders.Where(o => EF.Functions.Like(o.Contact.Name, pattern, "\\"));
    }

    private IQueryable<Order> Filtered(ShopContext context, IQueryable<Order> orders, OrderFilter filter)
    {
        var now = time.GetUtcNow();
        // Asked from the side of the pieces, whose index over the state is small where little is open, however many orders there are.
        var unfinished = context.Pieces.Where(p => Unfinished.Contains(p.State)).Select(p => p.Order);
        var good = context.Pieces.Where(p => p.State == PieceState.CheckedGood).Select(p => p.Order);
        return filter switch
        {
            OrderFilter.Open => orders.Where(o => unfinished.Contains(o.Id)),
            OrderFilter.Late => orders.Where(o => o.PromisedAt < now && unfinished.Contains(o.Id)),
            OrderFilter.Ready => orders.Where(o => good.Contains(o.Id) && !unfinished.Contains(o.Id)),
            OrderFilter.Closed => orders.Where(o => !good.Contains(o.Id) && !unfinished.Contains(o.Id)),
            _ => orders,
        };
    }

    private static IQueryable<Order> Sorted(IQueryable<Order> orders, OrderSort sort) =>
        sort switch
        {
            OrderSort.Promise => orders.OrderBy(o => o.PromisedAt).ThenBy(o => o.Number),
            OrderSort.Name => orders.OrderBy(o => o.Contact.Name).ThenBy(o => o.Number),
            _ => orders.OrderByDescending(o => o.Number),
        };
}
