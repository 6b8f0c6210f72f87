using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>A value before and after a change.</summary>
public readonly record struct Turn<T>(T Before, T After);

/// <summary>What another number of pieces would mean.</summary>
/// <param name="Quantity">Pieces of the line.</param>
/// <param name="Price">Of the line, with tax.</param>
/// <param name="Sum">Of the order, with tax.</param>
/// <param name="Deposit">Asked for; as invoiced where it was.</param>
/// <param name="Promise">Shop-local; after: null when no day was found.</param>
/// <param name="Back">Codes of the pieces that go.</param>
/// <param name="New">How many are made.</param>
/// <param name="Fingerprint">Of the price; the change carries it.</param>
public sealed record QuantityQuote(
    Turn<int> Quantity,
    Turn<decimal> Price,
    Turn<decimal> Sum,
    Turn<decimal> Deposit,
    Turn<DateTime?> Promise,
    IReadOnlyList<string> Back,
    int New,
    string Fingerprint
)
{
    /// <summary>For a rush: how many other orders it would make late.</summary>
    public int Pushes { get; init; }

    /// <summary>Why the price of the line changes; null where it is left out.</summary>
    public PriceWhy? Why { get; init; }

    /// <summary>What was asked.</summary>
    public required QuantityInput Input { get; init; }
}

/// <summary>Says what another number of pieces would cost and when it would be ready. Nothing is changed.</summary>
public sealed class QuantityView(IDbContextFactory<ShopContext> contexts, PromiseDay promises, JudgedLines lines, TimeProvider time)
    : IPageView
{
    /// <summary>The effect, or why it cannot be.</summary>
    public async Task<Result<QuantityQuote>> LoadAsync(QuantityInput input, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Id == input.Order, cancel) is not { } order)
            return new Refusal("order-missing", "This order is no longer there.");
        if (order.CancelledAt is not null)
            return new Refusal("order-off", "This order was called off.");
        var (line, sum, promised) = (order.Lines.FirstOrDefault(l => l.Number == input.Line), order.Gross, order.PromisedAt);
        var (quantity, price) = (line?.Quantity ?? 0, line?.Price.Gross ?? 0m);
        var account = (await OrderAccount.LoadAsync(context, order.Id, time.GetUtcNow(), cancel))!;
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        var resized = await ResizedLine.OfAsync(context, order, input, (shop, lines), cancel);
        if (!resized.IsOk)
            return Result<QuantityQuote>.Refused(resized.Refusals);
        var asked = resized.Value.Asked is { } onTop ? await promises.ForAsync(onTop, cancel) : null;
        DateTime? Local(DateTimeOffset? at) => at is { } a ? TimeZoneInfo.ConvertTime(a, shop.Settings.Zone).DateTime : null;
        var after =
            asked is null ? promised
            : asked.At > promised ? asked.At
            : asked.At is null ? null
            : promised;
        return new QuantityQuote(
            new(quantity, input.Quantity),
            new(price, resized.Value.Line.Price.Gross),
            new(sum, order.Gross),
            new(account.Deposit, account.DepositInvoices.Count > 0 ? account.Deposit : order.Deposit),
            new(Local(promised), Local(after)),
            [.. resized.Value.Moves.Back.Select(p => p.Code)],
            resized.Value.Moves.New.Count,
            resized.Value.Fingerprint
        )
        {
            Input = input with { ShownPrice = resized.Value.Fingerprint },
            Pushes = asked?.Pushes.Count ?? 0,
            Why = resized.Value.Why,
        };
    }
}
