using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Says what an order would cost and when it would be ready, without changing anything.</summary>
public sealed class QuoteOrder(IDbContextFactory<ShopContext> contexts, PromiseDay promises, JudgedLines lines, TimeProvider time)
    : IPageView
{
    /// <summary>Quotes; faults are told line by line, so that the rest still has its price.</summary>
    public async Task<OrderQuote> RunAsync(OrderInput entered, CancellationToken cancel = default) =>
        (await RunAsync([entered], cancel))[0];

    /// <summary>Quotes several ways to have an order, each as if the others were not asked for.</summary>
    public async Task<IReadOnlyList<OrderQuote>> RunAsync(IReadOnlyList<OrderInput> ways, CancellationToken cancel = default)
    {
        var judged = new List<JudgedOrder>();
        await using (var context = await contexts.CreateDbContextAsync(cancel))
        {
            var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
            foreach (var way in ways)
                judged.Add(await JudgedOrder.OfAsync(context, way, (shop, lines), cancel));
        }
        var priced = judged.FindAll(j => j.IsPriced);
        var promised = priced.Count == 0 ? [] : await promises.ForAsync([.. priced.Select(j => j.Asked)], cancel);
        return [.. judged.Select(j => Quote(j, j.IsPriced ? promised[priced.IndexOf(j)] : null))];
    }

    private static OrderQuote Quote(JudgedOrder judged, PromisedDay? promise)
    {
        var agreed = promise is null ? null : judged.Priced();
        var profile = judged.Shop.Settings.Profile;
        return new OrderQuote(
            [.. judged.Lines.Select(j => j.Quote)],
            agreed?.Sum(a => a.Net),
            agreed?.Sum(a => a.Gross),
            TaxOf(agreed) ?? judged.Shop.TaxPercentOf(judged.Order.Lines.All(l => l.Piece.IsOwn)),
            profile.Currency,
            promise?.At,
            promise is null ? 0 : Money.Round(judged.Lines.Sum(j => j.Quote.Price!.Deposit.Amount), Money.MinorDigits(profile.Currency)),
            judged.Shop.At
        )
        {
            Faults = LineFaults.OfWanted(judged.Order.Wanted, judged.Shop.Settings.Day(judged.Shop.At)),
            Short = judged.Short,
            Offer = judged.Offer,
            AddressAbove = judged.HasAddress ? null : AddressAbove(agreed?.Sum(a => a.Gross), judged.Shop.Settings),
            Pushes = promise?.Pushes ?? [],
            LeftOut = promise?.LeftOut ?? new Dictionary<int, LeftOut>(),
        };
    }

    private static decimal? AddressAbove(decimal? gross, CurrentSettings settings) =>
        AddressRule.FreeUpTo(settings.Invoices.Scheme, settings.Profile.Country, settings.Profile.Currency) is { } most && gross > most
            ? most
            : null;

    /// <summary>The rate of all lines; where they have different ones, what the tax comes to in all.</summary>
    private static decimal? TaxOf(IReadOnlyList<AgreedPrice>? agreed) =>
        agreed switch
        {
            null => null,
            _ when agreed.Select(a => a.TaxPercent).Distinct().ToList() is [var one] => one,
            _ when agreed.Sum(a => a.Net) is var net and not 0m => Math.Round(100 * (agreed.Sum(a => a.Gross) / net - 1), 2),
            _ => 0m,
        };
}
