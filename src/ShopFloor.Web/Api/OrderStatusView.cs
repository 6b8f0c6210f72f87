using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Api;

/// <summary>A piece in the API.</summary>
public sealed record PieceOut(string Code, PieceState State, StepKind? Step, DateTimeOffset ChangedAt);

/// <summary>A line in the API.</summary>
public sealed record LineOut(
    int Number,
    int Quantity,
    string Material,
    Finish Finish,
    bool LightLetters,
    decimal Net,
    decimal Gross,
    decimal TaxPercent,
    IReadOnlyList<PieceOut> Pieces
);

/// <summary>A discount in the API: what it takes off the lines' prices.</summary>
public sealed record DiscountOut(decimal Net, decimal Gross);

/// <summary>A charge in the API, such as shipping: what it asks for beside the lines, at the tax that is in force now.</summary>
public sealed record ChargeOut(decimal Net, decimal Gross);

/// <summary>An order in the API. It carries no name and no address. Its net and gross are the lines' less the discounts'; the charges come on top.</summary>
public sealed record OrderOut(
    int Order,
    string ExternalId,
    DateTimeOffset BookedAt,
    DateTimeOffset PromisedAt,
    DateOnly? Wanted,
    bool Rush,
    bool CalledOff,
    bool Ready,
    string Currency,
    decimal Net,
    decimal Gross,
    IReadOnlyList<LineOut> Lines,
    IReadOnlyList<DiscountOut> Discounts,
    IReadOnlyList<ChargeOut> Charges
);

/// <summary>Some orders.</summary>
/// <param name="Orders">By number, rising.</param>
/// <param name="Next">Ask on with <c>after</c> set to it; null when that was all.</param>
public sealed record OrdersOut(IReadOnlyList<OrderOut> Orders, int? Next);

/// <summary>Reads orders as other programs see them.</summary>
public sealed class OrderStatusView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Most orders of one answer.</summary>
    public const int Most = 100;

    /// <summary>One order with a tag that changes whenever anything in it does; null when there is none.</summary>
    public async Task<(OrderOut Order, string Tag)?> OneAsync(int number, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel);
        if (order is null)
            return null;
        var pieces = (await PiecesAsync(context, [order.Id], cancel))[order.Id].ToList();
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return (Of(order, pieces, settings), TagOf(order, pieces));
    }

    /// <summary>The tag that <see cref="OneAsync"/> gives the order now.</summary>
    internal static async Task<string> TagAsync(ShopContext context, Order order, CancellationToken cancel) =>
        TagOf(order, (await PiecesAsync(context, [order.Id], cancel))[order.Id]);

    /// <summary>Changes whenever anything does that the answer shows: of a test piece it shows nothing.</summary>
    private static string TagOf(Order order, IEnumerable<Piece> shown) =>
        string.Create(CultureInfo.InvariantCulture, $"{order.Version}-{shown.Sum(p => p.Version)}");

    /// <summary>Orders after a number.</summary>
    /// <param name="after">The last number that is known.</param>
    /// <param name="limit">At most so many, 1 to <see cref="Most"/>.</param>
    /// <param name="changedSince">Only where something happened since then.</param>
    /// <param name="cancel">Ends the read.</param>
    public async Task<OrdersOut> ManyAsync(int after, int limit, DateTimeOffset? changedSince, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var wanted = context.Orders.AsNoTracking().Where(o => o.Number > after);
        if (changedSince is { } since)
            wanted = wanted.Where(o =>
                EF.Property<DateTimeOffset>(o, OrderChanged.At) >= since || context.Pieces.Any(p => p.Order == o.Id && p.ChangedAt >= since)
            );
        var orders = await wanted.OrderBy(o => o.Number).Take(limit + 1).ToListAsync(cancel);
        var page = orders.Take(limit).ToList();
        var pieces = await PiecesAsync(context, [.. page.Select(o => o.Id)], cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return new OrdersOut([.. page.Select(o => Of(o, pieces[o.Id], settings))], orders.Count > limit ? page[^1].Number : null);
    }

    private static async Task<ILookup<OrderId, Piece>> PiecesAsync(ShopContext context, List<OrderId> orders, CancellationToken cancel) =>
        (await context.Pieces.AsNoTracking().Where(p => orders.Contains(p.Order) && !p.IsTest).ToListAsync(cancel)).ToLookup(p => p.Order);

    private OrderOut Of(Order o, IEnumerable<Piece> pieces, CurrentSettings settings)
    {
        var all = pieces.ToList();
        return new OrderOut(
            o.Number,
            o.ExternalId,
            o.BookedAt,
            o.PromisedAt,
            o.Wanted,
            o.IsRush,
            o.CancelledAt is not null,
            Readiness.IsReady([.. all.Select(p => p.Stand())]),
            o.Currency,
            o.Net,
            o.Gross,
            [.. o.Lines.OrderBy(l => l.Number).Select(l => Line(l, all))],
            [.. o.Discounts.Select(d => new DiscountOut(d.Shares.Sum(s => s.Net), d.Shares.Sum(s => s.Gross)))],
            [.. o.Charges.Select(c => Charge(o, c, settings))]
        );
    }

    private ChargeOut Charge(Order o, OrderCharge charge, CurrentSettings settings)
    {
        var factor = 1 + settings.ChargePercentOn(settings.Day(time.GetUtcNow())) / 100m;
        decimal Rounded(decimal amount) => new Money(amount, o.Currency).Rounded().Amount;
        return o.IsWithTax(settings.Profile.PricesIncludeTax)
            ? new(Rounded(charge.Amount / factor), charge.Amount)
            : new(charge.Amount, Rounded(charge.Amount * factor));
    }

    private static LineOut Line(OrderLine l, List<Piece> all) =>
        new(
            l.Number,
            l.Quantity,
            l.Piece.Material,
            l.Finish,
            l.Placement.LightLetters,
            l.Price.Net,
            l.Price.Gross,
            l.Price.TaxPercent,
            [
                .. all.Where(p => p.Line == l.Id)
                    .OrderBy(p => p.Number)
                    .Select(p => new PieceOut(p.Code, p.State, p.Current?.Kind, p.ChangedAt)),
            ]
        );
}
