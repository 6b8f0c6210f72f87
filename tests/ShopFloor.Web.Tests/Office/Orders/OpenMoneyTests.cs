using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>
/// What is said to be open while pieces go out, worked by hand: four plates come to 72 with tax; less 25 that were paid 47, and less 18 for
/// one that is not made 29.
/// </summary>
public sealed class OpenMoneyTests
{
    [Fact]
    public async Task Load_BookedAndPaidInParts_IsWhatIsLeft()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(4));
        Assert.Equal(72m, (await shop.OrderAsync()).Gross);
        Assert.Equal((72m, "EUR", true), await OpenAsync(shop));
        await PayAsync(shop, 25m);
        Assert.Equal((47m, "EUR", true), await OpenAsync(shop));
        await PayAsync(shop, 47m);
        Assert.Equal((0m, "EUR", false), await OpenAsync(shop));
        // Paid by mistake: it belongs to the customer, and nothing is open.
        await PayAsync(shop, 5m);
        Assert.Equal((-5m, "EUR", false), await OpenAsync(shop));
    }

    // One that can be made anew is still asked for; a blank that went back to the shelf is not: three quarters are left.
    [Fact]
    public async Task Load_PiecesLost_AreAskedForOnlyWhereOthersTakeTheirPlace()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(4));
        await PayAsync(shop, 25m);
        var codes = (await shop.PiecesAsync()).ConvertAll(p => p.Code);
        foreach (var code in codes)
            Assert.True((await shop.Get<ReceivePieces>().RunAsync(shop.Asked(), new Target(code))).IsOk);
        var spoiled = new FaultReport(new Target(codes[0]), "run", "", new TimeDecision(TimeChoice.Spoil, "fell down"));
        Assert.True((await shop.Get<ReportFault>().RunAsync(shop.Asked(), spoiled)).IsOk);
        Assert.Equal((47m, "EUR", true), await OpenAsync(shop));

        var back = new WithReason(new Target(codes[1]), "Not needed any more");
        Assert.True((await shop.Get<ReturnPieces>().RunAsync(shop.Asked(), back)).IsOk);
        Assert.Equal((29m, "EUR", true), await OpenAsync(shop));
    }

    [Fact]
    public async Task Load_NoSuchOrder_SaysNothingIsOpen()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        Assert.Null(await shop.Get<OpenMoneyView>().LoadAsync(shop.Booked.Number + 1));
        Assert.False(await shop.Get<OpenMoneyView>().IsOpenAsync(shop.Booked.Number + 1));
    }

    private static async Task<(decimal, string, bool)> OpenAsync(ChangedShop shop)
    {
        var view = shop.Get<OpenMoneyView>();
        var open = (await view.LoadAsync(shop.Booked.Number))!;
        Assert.Equal(open.IsOpen, await view.IsOpenAsync(shop.Booked.Number));
        return (open.Amount, open.Currency, open.IsOpen);
    }

    private static async Task PayAsync(ChangedShop shop, decimal amount)
    {
        var day = DateOnly.FromDateTime(shop.Shop.Clock.GetUtcNow().UtcDateTime);
        var paid = await shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(null, shop.Booked.Order, amount, day, "cash"));
        Assert.True(paid.IsOk, paid.Refusals.FirstOrDefault()?.Text);
    }
}
