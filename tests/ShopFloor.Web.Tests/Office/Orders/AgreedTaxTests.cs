using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>Whether amounts are with tax is agreed at booking: a later change of the setting leaves open orders as they are.</summary>
public sealed class AgreedTaxTests
{
    [Fact]
    public async Task Switch_PricesWithTax_LeavesWhatAnOpenOrderAsksFor()
    {
        await using var shop = await ChangedShop.OpenDemoAsync(ChangedShop.Plates(4));
        Assert.True((await shop.Get<ChargeOrder>().RunAsync(shop.Asked(), new(shop.Booked.Order, "Shipping", 11.90m))).IsOk);
        await DoneAsync(shop);
        var (before, deposit) = (await LookAsync(shop), await DepositAsync(shop));

        await SwitchAsync(shop, withTax: false);

        Assert.Equal(before, await LookAsync(shop));
        Assert.Equal(deposit, await DepositAsync(shop));
        Assert.True((await shop.DetailAsync()).WithTax);
        var order = await shop.OrderAsync();
        Assert.Equal(
            "Prices include VAT.",
            OrderLetterView.TaxWords(order, await shop.Get<SettingsView>().LoadAsync(), LetterReader.English)
        );
        var wish = new DiscountWish(order.Gross, false, "A gift");
        Assert.True((await shop.Get<DiscountOrder>().RunAsync(shop.Asked(), new(shop.Booked.Order, wish))).IsOk);
        Assert.Equal((0m, 0m), ((await shop.OrderAsync()).Gross, (await shop.OrderAsync()).Net));
    }

    [Fact]
    public async Task Charge_AsAPercentAfterTheSwitch_IsOfThePriceAsAgreed()
    {
        await using var shop = await ChangedShop.OpenDemoAsync(ChangedShop.Plates(4));
        await SwitchAsync(shop, withTax: false);

        Assert.True((await shop.Get<ChargeOrder>().RunAsync(shop.Asked(), new(shop.Booked.Order, "Sunday", 10m, IsPercent: true))).IsOk);

        var order = await shop.OrderAsync();
        Assert.Equal(Money.Round(order.Gross / 10m), Assert.Single(order.Charges).Amount);
    }

    [Fact]
    public async Task Resize_AfterTheSwitch_KeepsHowTheOrderWasAgreed()
    {
        await using var shop = await ChangedShop.OpenDemoAsync(ChangedShop.Plates(4));
        var same = await shop.LookAsync(2);
        await SwitchAsync(shop, withTax: false);

        await shop.ChangeAsync(2);

        var order = await shop.OrderAsync();
        Assert.True(order.IsWithTax(shop: false));
        Assert.InRange(order.Deposit, same.Deposit.After - 0.02m, same.Deposit.After + 0.02m);
    }

    [Fact]
    public async Task Export_AfterTheSwitch_SaysTheSumAsPricesAreNow()
    {
        await using var shop = await ChangedShop.OpenDemoAsync(ChangedShop.Plates(4));
        Assert.True((await shop.Get<ChargeOrder>().RunAsync(shop.Asked(), new(shop.Booked.Order, "Shipping", 11.90m))).IsOk);
        await SwitchAsync(shop, withTax: false);

        var file = await shop.Get<EverythingOut>().FileAsync(ImportKind.Orders, default);

        var net = (await shop.OrderAsync()).Net + 10m;
        Assert.Contains(FormattableString.Invariant($"Shipping=10,{net:0.####}"), file, StringComparison.Ordinal);
    }

    private static async Task<decimal> LookAsync(ChangedShop shop) =>
        (await shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(shop.Booked.Order))).Value.Payable;

    private static async Task<decimal> DepositAsync(ChangedShop shop) =>
        (await shop.Get<InvoiceDraftView>().LoadAsync(new IssueInput(shop.Booked.Order, Deposit: 5m))).Value.Payable;

    private static async Task SwitchAsync(ChangedShop shop, bool withTax)
    {
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile with { PricesIncludeTax = withTax };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(shop.Asked(), profile)).IsOk);
    }

    private static async Task DoneAsync(ChangedShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        await context
            .Pieces.Where(p => p.Order == shop.Booked.Order)
            .ExecuteUpdateAsync(p => p.SetProperty(x => x.State, PieceState.HandedOver));
    }
}
