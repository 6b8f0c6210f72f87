using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>A coating's price holds from its day on, and what was booked keeps what it was made with.</summary>
public sealed class CoatingPriceTests
{
    [Fact]
    public async Task Price_FromTomorrow_ChangesTomorrowsQuotesAndNoOrder()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var order = ShopOrders.Plates(4);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(owner), await shop.ShownAsync(order));
        var stock = await shop.Get<StockView>().LoadAsync();
        var clear = stock.Coatings.First(c => c.Kind == CoatingKind.Clear);
        async Task<(string? Hash, string Basis, decimal Now)> QuoteAsync()
        {
            var price = (await shop.Get<QuoteOrder>().RunAsync(order)).Lines[0].Price!;
            var part = price.Parts.Single(p => p.Code == $"coating.{clear.Code}");
            return (price.Hash, part.Basis, part.PerLine.Amount);
        }
        var before = await QuoteAsync();
        var dear = new CoatingPriceInput(clear.Id, stock.Today.AddDays(1), clear.Settings.CanPriceOn(stock.Today) * 3);
        Assert.True((await shop.Get<PriceCoating>().RunAsync(Asked.By(owner), dear)).IsOk);
        Assert.Equal(before, await QuoteAsync());
        shop.Clock.Advance(TimeSpan.FromDays(1));
        var after = await QuoteAsync();
        Assert.NotEqual(before.Hash, after.Hash);
        Assert.True(Math.Abs(after.Now - 3 * before.Now) <= 0.02m, $"{before.Now} and {after.Now}");
        var kept = (await shop.Get<OrderDetailView>().LoadAsync(booked.Value.Number))!.Lines[0].Price.Parts;
        Assert.Contains((before.Now, before.Basis), kept.Select(p => (p.Amount, p.Basis)));
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Audit.CountAsync(a => a.What == "coating price changed"));
    }

    /// <summary>Two plates of 100 × 60 mm and 15 ml for a square metre make 0.18 ml of promoter.</summary>
    [Fact]
    public async Task Promoter_WipedOn_StandsInPriceAndNeedsWhereItIsCounted()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var promoter = (await shop.Get<StockView>().LoadAsync()).Coatings.First(c => c.Kind == CoatingKind.Promoter);
        async Task<IReadOnlyList<string>> BasisAsync() =>
            [
                .. (await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates()))
                    .Lines[0]
                    .Price!.Parts.Where(p => p.Code == "coating.promoter")
                    .Select(p => p.Basis),
            ];
        Assert.Contains("0.09 ml", Assert.Single(await BasisAsync()), StringComparison.Ordinal);
        decimal Needed(StockSheet sheet) => sheet.Outlooks.Single(o => o.Name == promoter.Name).Outlook.NeededInAll;
        var before = Needed(await shop.Get<StockView>().LoadAsync());
        var order = await shop.ShownAsync(ShopOrders.Plates());
        Assert.True((await shop.Get<BookOrder>().RunAsync(Asked.By(owner), order)).IsOk);
        Assert.Equal(before + 0.18m, Needed(await shop.Get<StockView>().LoadAsync()));
        var none = new CoatingInput(promoter.Id, promoter.Version, promoter.Name, promoter.Settings with { WipedMlPerSquareMetre = 0 });
        Assert.True((await shop.Get<ChangeCoating>().RunAsync(Asked.By(owner), none)).IsOk);
        Assert.Empty(await BasisAsync());
    }

    [Fact]
    public void CanPriceOn_SeveralDays_IsTheLastThatHolds()
    {
        var (june, july) = (new DateOnly(2026, 6, 1), new DateOnly(2026, 7, 1));
        var settings = new CoatingSettings { CanPrice = 10 }
            .PricedFrom(july, 12)
            .PricedFrom(june, 11)
            .PricedFrom(july, 13);
        Assert.Equal([10m, 11m, 11m, 13m], new[] { june.AddDays(-1), june, july.AddDays(-1), july }.Select(settings.CanPriceOn));
        Assert.Contains(settings.PricedFrom(july, -1).Faults(), f => f.Field == "price");
    }
}
