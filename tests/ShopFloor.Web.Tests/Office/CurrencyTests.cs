using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pricing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Prices that were saved follow the workshop's currency, so that quotes go on.</summary>
public sealed class CurrencyTests
{
    [Theory]
    [InlineData("GBP", 0.10)]
    [InlineData("JPY", 1)]
    public async Task Change_CurrencyAfterPricesWereSaved_QuotesInTheNewOneWithTheSameNumbers(string currency, double step)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Owner));
        var view = shop.Get<SettingsView>();
        var before = await view.LoadAsync();
        var prices = new PricesInput(before.Rates, before.Rule with { RoundUnitPriceTo = 0.10m }, before.Inputs);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(asked, prices)).IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var seen = (await view.LoadAsync()).Versions;

        var done = await shop.Get<ChangeProfile>()
            .RunAsync(Asked.By(asked.Worker!.Value).HavingSeen(seen), before.Profile with { Currency = currency });

        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        var after = await view.LoadAsync();
        Assert.Equal((currency, before.Rates.LabourPerHour.Amount), (after.Rates.Currency, after.Rates.LabourPerHour.Amount));
        Assert.Equal((currency, (decimal)step), (after.Rule.MinimumPerLine.Currency, after.Rule.RoundUnitPriceTo));
        Assert.Empty(after.Rates.Check().Concat(after.Rule.Check()));
        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(4));
        Assert.Equal(currency, quote.Lines[0].Price!.UnitPrice.Currency);
    }

    [Fact]
    public async Task Change_ToACurrencyWithoutCents_QuotesWholeCoinsByTheShippedPrices()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile;
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile with { Currency = "VND" })).IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var price = (await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(4))).Lines[0].Price;
        Assert.NotNull(price);
        Assert.Equal(0m, price.UnitPrice.Amount % 1);
    }

    // ISO 4217: the yen has no smaller coin. 1005 and 10 % tax are 1105.50; half away from zero 1106, so that BT-114 is 0.50 (EN 16931).
    [Fact]
    public async Task Issue_DepositWithoutTaxInACurrencyWithoutCents_IsDueInWholeCoins()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var now = await shop.Get<SettingsView>().LoadAsync();
        var rate = new TaxRate("normal", "normal", TaxKind.Standard(10), null, DateOnly.MinValue, null);
        Assert.True((await shop.Get<ChangeInvoiceSettings>().RunAsync(Asked.By(owner), now.Invoices with { Rates = [rate] })).IsOk);
        var yen = now.Profile with { Currency = "JPY", PricesIncludeTax = false };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), yen)).IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var input = ShopOrders.Plates(2);
        input = input with { Lines = [input.Lines[0] with { PriceByHand = 2000m, PriceReason = "agreed" }] };
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(owner), await shop.ShownAsync(input));
        Assert.True(booked.IsOk, string.Join("; ", booked.Refusals.Select(r => r.Text)));
        var issued = await shop.Get<IssueInvoice>().RunAsync(Asked.By(owner), new IssueInput(booked.Value.Order, Deposit: 1005m));
        Assert.True(issued.IsOk, string.Join("; ", issued.Refusals.Select(r => r.Text)));
        await using var context = await shop.ContextAsync();
        var totals = OrderAccount.Read(context.Documents.Single(d => d.Id == issued.Value.Id).Json).Totals;
        Assert.Equal((1105.50m, 0.50m, 1106m), (totals.WithTax, totals.Rounding, totals.Due));
    }

    /// <summary>A shop whose currency was changed before prices followed is put right by the next save of its page.</summary>
    [Fact]
    public async Task Change_PricesLeftBehindEarlier_FollowWithTheNextSave()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var asked = Asked.By(await shop.WorkerAsync(WorkerRole.Owner));
        var now = await shop.Get<SettingsView>().LoadAsync();
        var behind = new PricesInput(now.Rates.In("GBP"), now.Rule.In("GBP"), now.Inputs);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(asked, behind)).IsOk);
        Assert.Null((await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(4))).Lines[0].Price);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var again = Asked.By(asked.Worker!.Value);
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(again, now.Profile with { City = "Torfheim" })).IsOk);
        Assert.NotNull((await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(4))).Lines[0].Price);
    }

    [Fact]
    public void Page_CurrencyChanged_SaysThatPricesFollowed() =>
        Assert.Contains(
            "now count as {0}, with the same numbers",
            Tree.Text("src/ShopFloor.Web/Office/Workshop/WorkshopPage.razor"),
            StringComparison.Ordinal
        );
}
