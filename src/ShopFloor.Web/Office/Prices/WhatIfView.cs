using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Prices;

/// <summary>An order with its three prices, before tax.</summary>
/// <param name="Agreed">As it was booked.</param>
/// <param name="Now">As it would be quoted today.</param>
/// <param name="IfSo">As it would be quoted with the tried numbers.</param>
/// <param name="ByHand">True: a price was set by hand; such a line stays as it is in all three.</param>
public sealed record RepricedOrder(int Number, string Customer, DateTime BookedAt, decimal Agreed, decimal Now, decimal IfSo, bool ByHand);

/// <summary>A month's orders, repriced; nothing is saved.</summary>
public sealed record WhatIfSheet(IReadOnlyList<RepricedOrder> Orders, int LeftOut, string Currency)
{
    public decimal Agreed => Orders.Sum(o => o.Agreed);
    public decimal Now => Orders.Sum(o => o.Now);
    public decimal IfSo => Orders.Sum(o => o.IfSo);
}

/// <summary>What last month's orders would have been priced with other numbers.</summary>
public sealed class WhatIfView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Reprices the orders of a month.</summary>
    /// <param name="month">Any day of it, shop-local.</param>
    /// <param name="tried">The numbers to try.</param>
    /// <param name="cancel">Ends the work.</param>
    /// <returns>The orders, or what is wrong with the numbers.</returns>
    public async Task<Result<WhatIfSheet>> LoadAsync(DateOnly month, PricesInput tried, CancellationToken cancel = default)
    {
        IReadOnlyList<Refusal> faults = [.. tried.Rates.Check(), .. tried.Rule.Check(), .. tried.Inputs.Check()];
        if (faults.Count > 0)
            return Result<WhatIfSheet>.Refused(faults);
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        var (from, to) = Period.Month(month, shop.Settings.Zone);
        var orders = await context
            .Orders.AsNoTracking()
            .Where(o => o.BookedAt >= from && o.BookedAt < to && o.CancelledAt == null)
            .OrderBy(o => o.Number)
            .ToListAsync(cancel);
        var ids = orders.Select(o => o.Id).ToList();
        var steps = (await context.Pieces.AsNoTracking().Where(p => ids.Contains(p.Order) && p.Number == 1).ToListAsync(cancel))
            // A number that came free when a piece was given back may have been given again.
            .GroupBy(p => p.Line)
            .ToDictionary(
                g => g.Key,
                g => (IReadOnlyList<RecipeStep>)[.. g.MaxBy(p => p.ChangedAt)!.Items.OrderBy(i => i.Number).Select(i => i.Settings)]
            );
        var customers = orders.Select(o => o.Customer).Distinct().ToList();
        var groups = await context.Customers.Where(c => customers.Contains(c.Id)).ToDictionaryAsync(c => c.Id, c => c.Group, cancel);
        var settings = shop.Settings with { Rates = tried.Rates, Rule = tried.Rule, Inputs = tried.Inputs };
        var ifSo = shop with { Settings = settings };
        var rows = orders.Select(o => Row(o, steps, groups[o.Customer], (shop, ifSo))).ToList();
        return new WhatIfSheet([.. rows.OfType<RepricedOrder>()], rows.Count(r => r is null), shop.Settings.Profile.Currency);
    }

    private static RepricedOrder? Row(
        Order order,
        Dictionary<OrderLineId, IReadOnlyList<RecipeStep>> steps,
        string group,
        (ShopFacts Now, ShopFacts IfSo) shops
    )
    {
        var (now, ifSo) = (0m, 0m);
        foreach (var line in order.Lines)
        {
            if (line.Price.OverrideReason is not null)
            {
                now += line.Price.Net;
                ifSo += line.Price.Net;
                continue;
            }
            // A coating that is no longer kept, or numbers that no longer price: such an order is counted as left out, never guessed.
            if (
                !steps.TryGetValue(line.Id, out var fitted)
                || Net(order, line, fitted, group, shops.Now) is not { } today
                || Net(order, line, fitted, group, shops.IfSo) is not { } tried
            )
                return null;
            now += today;
            ifSo += tried;
        }
        var booked = TimeZoneInfo.ConvertTime(order.BookedAt, shops.Now.Settings.Zone).DateTime;
        var byHand = order.Lines.Any(l => l.Price.OverrideReason is not null);
        return new RepricedOrder(order.Number, order.Contact.Name, booked, order.Lines.Sum(l => l.Price.Net), now, ifSo, byHand);
    }

    private static decimal? Net(Order order, OrderLine line, IReadOnlyList<RecipeStep> fitted, string group, ShopFacts shop)
    {
        if (fitted.Any(s => s.Kind == StepKind.Spray && shop.Coatings.All(c => c.Kind != s.Coating)))
            return null;
        var input = new LineInput
        {
            Piece = line.Piece,
            Quantity = line.Quantity,
            Finish = line.Finish,
            Placement = line.Placement,
        };
        var price = PriceLine.Compute(input, shop.Settings.Timed(line.Finish, fitted), shop, order.IsRush, group);
        return price.IsOk ? AgreeOn.Price(price.Value, line.Piece.IsOwn, shop).Net : null;
    }
}
