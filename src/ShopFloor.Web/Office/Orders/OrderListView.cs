using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Which orders to list.</summary>
public enum OrderFilter
{
    /// <summary>Something is still to be done.</summary>
    Open,

    /// <summary>All pieces are packed: waiting for the customer, as <see cref="Readiness.IsReady"/> has it.</summary>
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

    /// <summary>What the plan has ready first; what is not planned comes last, newest first.</summary>
    Planned,
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
    /// <summary>What was agreed, invoiced and paid; null: it was not read.</summary>
    public OrderBalance? Balance { get; init; }

    /// <summary>True when something is still to be done, be it packing.</summary>
    public bool IsOpen => (Steps.Count > 0 && !IsCancelled) || Pieces.Any(p => !p.State.IsEnd() && !p.State.IsGood());

    /// <summary>When it is ready by the plan; null when nothing is left to do, or not all of it is planned.</summary>
    public DateTimeOffset? ReadyAt { get; init; }

    /// <summary>Why there is no time by the plan, in a few words; empty when nothing is left to do.</summary>
    public string NotPlanned =>
        Pieces.Any(p => p.State == PieceState.Held) ? "put aside"
        : Pieces.Any(p => p.State == PieceState.Booked) ? "not all here"
        : IsOpen ? "not planned"
        : "";

    /// <summary>Where what is in work stands, in words of the workshop.</summary>
    public IReadOnlyList<StepCount> Steps { get; init; } = [];
}

/// <summary>The money of an order in the list, with tax.</summary>
/// <param name="Left">What is left to pay; below zero: too much came in.</param>
public sealed record OrderBalance(decimal Agreed, decimal Paid, decimal Left, string Currency)
{
    /// <summary>The tax system changed between agreement and invoice; null: it did not.</summary>
    public SystemChange? SystemChange { get; init; }
}

/// <summary>Which part of the list.</summary>
/// <param name="From">Orders before it, 0 for the beginning.</param>
/// <param name="Count">How many.</param>
public readonly record struct OrderSpan(int From, int Count);

/// <summary>A part of the list.</summary>
/// <param name="Rows">Its orders.</param>
/// <param name="Count">How many there are in all.</param>
/// <param name="Zone">The shop's own time.</param>
public sealed record OrderSlice(IReadOnlyList<OrderRow> Rows, int Count, TimeZoneInfo Zone);

/// <summary>The order list: searched, filtered, sorted and cut into parts by the database.</summary>
public sealed class OrderListView(IDbContextFactory<ShopContext> contexts, TimeProvider time, PlanShelf plans) : IPageView
{
    /// <summary>The most orders that are read at once.</summary>
    public const int Most = 200;

    /// <summary>Letters of a code from which on orders are found by a part of it.</summary>
    private const int LeastOfCode = 3;

    /// <summary>One part.</summary>
    /// <param name="search">Part of a name or of a piece's code, or an order's number; empty: all.</param>
    /// <param name="filter">Which.</param>
    /// <param name="sort">How sorted.</param>
    /// <param name="span">Which part; at most <see cref="Most"/> are read.</param>
    /// <param name="cancel">Ends the query.</param>
    public async Task<OrderSlice> LoadAsync(
        string? search,
        OrderFilter filter,
        OrderSort sort,
        OrderSpan span,
        CancellationToken cancel = default
    )
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var ends = (await plans.LatestAsync(cancel))?.OrderEnds() ?? new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        var found = Filtered(context, Searched(context, (search ?? "").Trim()), filter);
        var count = await found.CountAsync(cancel);
        var part = new OrderSpan(span.From, Math.Min(span.Count, Most));
        var rows =
            sort == OrderSort.Planned
                ? await PlannedFirst.ReadAsync((context, found), ends, part, cancel)
                : await Heads(Sorted(found, sort).Skip(part.From).Take(part.Count)).ToListAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return new OrderSlice(
            await WithPiecesAsync(context, rows, (ends, settings, settings.Day(time.GetUtcNow())), cancel),
            count,
            settings.Zone
        );
    }

    /// <summary>What a row shows of the order itself.</summary>
    internal static IQueryable<OrderHead> Heads(IQueryable<Order> orders) =>
        orders.Select(o => new OrderHead(o.Id, o.Number, o.Contact.Name, o.BookedAt, o.PromisedAt, o.IsRush, o.CancelledAt != null));

    private static async Task<IReadOnlyList<OrderRow>> WithPiecesAsync(
        ShopContext context,
        IReadOnlyList<OrderHead> rows,
        (IReadOnlyDictionary<string, DateTimeOffset> Ends, CurrentSettings Settings, DateOnly Today) now,
        CancellationToken cancel
    )
    {
        var ids = rows.Select(r => r.Id).ToList();
        var money = (await OrderAccount.LoadAsync(context, ids, now.Settings, cancel)).ToDictionary(
            a => a.Order.Id,
            a => new OrderBalance(a.Agreed, a.Paid, a.LeftToPay, a.Order.Currency) { SystemChange = SupplySystem.ChangeOf(a, now.Today) }
        );
        var byOrder = await StatesAsync(context, ids, cancel);
        var steps = await StepCount.ReadAsync(context, ids, cancel);
        return
        [
            .. rows.Select(r => new OrderRow(
                r.Id,
                r.Number,
                r.Name,
                r.BookedAt,
                r.PromisedAt,
                r.IsRush,
                r.IsCancelled,
                [.. byOrder[r.Id].OrderBy(s => s.State)]
            )
            {
                ReadyAt = IsPlanned([.. byOrder[r.Id].Select(s => s.State)], steps.ContainsKey(r.Id))
                    ? PlannedFirst.EndOf(now.Ends, r.Number)
                    : null,
                Balance = money.GetValueOrDefault(r.Id),
                Steps = steps.GetValueOrDefault(r.Id, []),
            }),
        ];
    }

    private static async Task<ILookup<OrderId, (PieceState State, int Count)>> StatesAsync(
        ShopContext context,
        List<OrderId> ids,
        CancellationToken cancel
    ) =>
        (
            await context
                .Pieces.Where(p => ids.Contains(p.Order) && !p.IsTest)
                .GroupBy(p => new { p.Order, p.State })
                .Select(g => new
                {
                    g.Key.Order,
                    g.Key.State,
                    Count = g.Count(),
                })
                .ToListAsync(cancel)
        ).ToLookup(s => s.Order, s => (s.State, s.Count));

    // The plan may be from before the last piece was packed.
    private static bool IsPlanned(IReadOnlyList<PieceState> states, bool hasSteps) => hasSteps && !states.Any(PlannedFirst.IsUnplanned);

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
        var isPart = search.Length >= LeastOfCode && search.All(char.IsAsciiLetterOrDigit);
        var part = search.ToUpperInvariant();
        var coded = context.Pieces.Where(p => p.Code.Contains(part) || (p.Tray != null && p.Tray.Contains(part))).Select(p => p.Order);
        return Named(orders, search, coded.Where(_ => isPart));
    }

    // By the database, which knows no letter beyond English as alike: so the same is done to the name as to the word, where a name has one.
    private static IQueryable<Order> Named(IQueryable<Order> orders, string search, IQueryable<OrderId> others)
    {
        var pattern = Fold(
            $"%{search.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("%", "\\%", StringComparison.Ordinal).Replace("_", "\\_", StringComparison.Ordinal)}%"
        );
        return orders.Where(o =>
            EF.Functions.Like(o.Contact.Name, pattern, "\\")
            || (
                EF.Functions.Glob(o.Contact.Name, "*[ßäÄöÖüÜ]*")
                && EF.Functions.Like(
                    o.Contact.Name.Replace("ß", "ss")
                        .Replace("ä", "ae")
                        .Replace("Ä", "ae")
                        .Replace("ö", "oe")
                        .Replace("Ö", "oe")
                        .Replace("ü", "ue")
                        .Replace("Ü", "ue"),
                    pattern,
                    "\\"
                )
            )
            || others.Contains(o.Id)
        );
    }

    private static string Fold(string text) =>
        text.Replace("ß", "ss", StringComparison.Ordinal)
            .Replace("ä", "ae", StringComparison.OrdinalIgnoreCase)
            .Replace("ö", "oe", StringComparison.OrdinalIgnoreCase)
            .Replace("ü", "ue", StringComparison.OrdinalIgnoreCase);

    private IQueryable<Order> Filtered(ShopContext context, IQueryable<Order> orders, OrderFilter filter)
    {
        var now = time.GetUtcNow();
        var unfinished = context.OrdersWithWorkLeft();
        var good = context.Pieces.Where(p => p.State == PieceState.CheckedGood && !p.IsTest).Select(p => p.Order);
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
