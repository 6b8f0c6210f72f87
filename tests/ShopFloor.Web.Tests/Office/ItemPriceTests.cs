using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The price of a blank holds from its day on, as that of a can does.</summary>
public sealed class ItemPriceTests
{
    [Fact]
    public async Task Price_OfABlankFromTomorrow_ChangesTomorrowsQuotes()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(ShopFloor.Data.WorkerRole.Owner);
        var item = (await shop.Get<StockDetailView>().ItemAsync("plate-100x60"))!;
        async Task<(string? Hash, decimal Blank)> QuoteAsync()
        {
            var price = (await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(4))).Lines[0].Price!;
            return (price.Hash, price.Parts.Single(p => p.Code == "blank").PerLine.Amount);
        }
        var before = await QuoteAsync();
        var dear = new ItemPriceInput(item.Code, item.Today.AddDays(1), item.Facts.Price * 3);
        Assert.True((await shop.Get<PriceItem>().RunAsync(Asked.By(owner), dear)).IsOk);
        Assert.Equal(before, await QuoteAsync());
        Assert.Equal(item.Facts.Price, (await shop.Get<StockView>().LoadAsync()).Items.Single(i => i.Code == item.Code).Price);
        shop.Clock.Advance(TimeSpan.FromDays(1));
        var after = await QuoteAsync();
        Assert.NotEqual(before.Hash, after.Hash);
        Assert.Equal(4 * 3 * item.Facts.Price, after.Blank);
        Assert.Equal(3 * item.Facts.Price, (await shop.Get<StockView>().LoadAsync()).Items.Single(i => i.Code == item.Code).Price);
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Audit.CountAsync(a => a.What == "item price changed"));
    }

    [Fact]
    public void PriceFrom_SeveralDays_TheLastThatHoldsAndNothingBelowZero()
    {
        var (june, july) = (new DateOnly(2026, 6, 1), new DateOnly(2026, 7, 1));
        var item = new StockItem("tape", "Tape", StockItem.Tape, "rolls", 0, 2, 10);
        Assert.All([(july, 12m), (june, 11m), (july, 13m)], p => Assert.True(item.PriceFrom(p.Item1, p.Item2).IsOk));
        Assert.Equal([10m, 11m, 11m, 13m], new[] { june.AddDays(-1), june, july.AddDays(-1), july }.Select(item.PriceOn));
        Assert.Equal("price", item.PriceFrom(july, -0.01m).Refusals[0].Field);
        for (var day = 2; item.Prices.Count < DatedPrice.Most; day++)
            Assert.True(item.PriceFrom(july.AddDays(day), 1).IsOk);
        Assert.False(item.PriceFrom(june.AddDays(-9), 1).IsOk);
        Assert.True(item.PriceFrom(july, 14).IsOk);
    }
}
