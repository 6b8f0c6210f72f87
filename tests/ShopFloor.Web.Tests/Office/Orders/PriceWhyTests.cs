using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>Before another number of pieces is agreed on, the page says why the price is another one: today's prices, the number, what lies on top.</summary>
public sealed class PriceWhyTests
{
    [Fact]
    public async Task Look_RatesAsAtBooking_OnlyTheNumberMovesThePrice()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        var quote = await shop.LookAsync(4);
        Assert.Equal(quote.Price.Before, quote.Why!.SameToday);
        Assert.Empty(quote.Why.Moved);
        Assert.Equal(quote.Why.Tax.Before, quote.Why.Tax.After);
        Assert.False(quote.Why.ByHand);
    }

    [Fact]
    public async Task Look_DearerHoursAndADiscountByNumber_NamesBoth()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        var fresh = (await shop.LookAsync(20)).Price.After;
        var now = await shop.Get<SettingsView>().LoadAsync();
        var rule = now.Rule with { QuantitySteps = [new(10, 12.5m)] };
        var dearer = new PricesInput(now.Rates with { LabourPerHour = new Money(90, now.Rates.Currency) }, rule, now.Inputs);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(shop.Asked(), dearer)).IsOk);

        var quote = await shop.LookAsync(20);

        Assert.True(quote.Why!.SameToday > quote.Price.Before);
        Assert.NotEqual(fresh, quote.Price.After);
        var hands = Assert.Single(quote.Why.Moved, m => m.Name == "Work by hand");
        Assert.True(hands.More > 0m);
        Assert.DoesNotContain(quote.Why.Moved, m => m.Name.StartsWith("Tax", StringComparison.Ordinal));
        var step = Assert.Single(quote.Why.Extras, e => e.Name.Contains("10", StringComparison.Ordinal));
        Assert.Equal((0m, true), (step.Before, step.After < 0m));
    }

    [Fact]
    public async Task Look_PriceSetByHand_SaysThatItStaysAndNothingElse()
    {
        var byHand = ChangedShop.Plates(4);
        byHand = byHand with { Lines = [byHand.Lines[0] with { PriceByHand = 7.5m, PriceReason = "an old friend" }] };
        await using var shop = await ChangedShop.OpenAsync(byHand);
        var why = (await shop.LookAsync(6)).Why!;
        Assert.True(why.ByHand);
        Assert.Equal((0, 0), (why.Moved.Count, why.Extras.Count));
    }

    [Fact]
    public async Task Look_LineLeftOut_HasNoNewPriceToExplain()
    {
        var two = ChangedShop.Plates(2);
        two = two with { Lines = [two.Lines[0], two.Lines[0] with { Quantity = 3 }] };
        await using var shop = await ChangedShop.OpenAsync(two);
        Assert.Null((await shop.LookAsync(0)).Why);
    }
}
