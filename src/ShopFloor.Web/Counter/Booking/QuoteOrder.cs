using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Says what an order would cost and when it would be ready, without changing anything.</summary>
public sealed class QuoteOrder(IDbContextFactory<ShopContext> contexts, PromiseDay promises, QuotedPromises known, TimeProvider time)
    : IPageView
{
    /// <summary>Quotes; faults are told line by line, so that the rest still has its price.</summary>
    public async Task<OrderQuote> RunAsync(OrderInput entered, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var order = await entered.WithKnownCustomerAsync(context, cancel);
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        var group = order.Customer is { } id
            ? await context.Customers.Where(c => c.Id == id).Select(c => c.Group).FirstOrDefaultAsync(cancel)
            : null;
        var judged = order.Lines.Select(l => JudgeLine.Of(l, shop, order.IsRush, group)).ToList();
        var all = judged.Count > 0 && judged.All(j => j.Quote.Price is not null);
        var agreed = all ? judged.Select(j => AgreeOn.Price(j.Quote.Price!, shop)).ToList() : [];
        var promise = new PromisedDay(null, []);
        if (all)
        {
            var pieces = order
                .Lines.Zip(judged, (l, j) => new NewPieces(l.Piece, l.Quantity, j.Steps, shop.Settings.LossOf(l.Finish)))
                .ToList();
            promise = await known.ForAsync(promises, context, pieces, order.IsRush, cancel);
        }
        var currency = shop.Settings.Profile.Currency;
        return new OrderQuote(
            [.. judged.Select(j => j.Quote)],
            all ? agreed.Sum(a => a.Net) : null,
            all ? agreed.Sum(a => a.Gross) : null,
            shop.Settings.Profile.TaxPercent,
            currency,
            promise.At,
            all ? Money.Round(judged.Sum(j => j.Quote.Price!.Deposit.Amount), Money.MinorDigits(currency)) : 0,
            shop.At
        )
        {
            Pushes = promise.Pushes,
        };
    }
}
