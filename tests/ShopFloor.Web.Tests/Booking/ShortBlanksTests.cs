using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Booking;

/// <summary>Nothing is promised before its blanks can be here.</summary>
public sealed class ShortBlanksTests
{
    [Fact]
    public async Task Promise_OfMoreThanThereAre_IsNotBeforeTheOthersCome()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var free = await FreeAsync(shop, 8);
        var enough = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(8));
        var more = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(12));
        var day = DateOnly.FromDateTime(shop.Clock.GetUtcNow().UtcDateTime).AddDays(free.LeadDays);

        Assert.Empty(enough.Short);
        Assert.True(enough.PromisedAt < more.PromisedAt);
        Assert.Equal(new ShortBlanks(8, day), more.Short[0]);
        Assert.True(DateOnly.FromDateTime(more.PromisedAt!.Value.UtcDateTime) >= day);
    }

    [Fact]
    public async Task Promise_WithADeliveryBeyondTheDaysPlannedOtherwise_HasItsDay()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await FreeAsync(shop, 0, leadDays: 25);
        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates());
        Assert.Equal(0, quote.Short[0].Here);
        Assert.True(quote.PromisedAt >= shop.Clock.GetUtcNow().AddDays(24));
    }

    [Fact]
    public async Task Short_AfterAnotherOrderTookThem_CountsOnlyWhatIsFree()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await FreeAsync(shop, 8);
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var booked = await shop.Get<BookOrder>().RunAsync(Asked.By(owner), await shop.ShownAsync(ShopOrders.Plates(6)));
        Assert.True(booked.IsOk);
        Assert.Equal(2, (await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(3))).Short[0].Here);
        Assert.Empty((await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates(3, own: true))).Short);
    }

    [Fact]
    public async Task Short_TwoLinesOfTheSameBlank_ShareWhatThereIs()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await FreeAsync(shop, 8);
        var line = ShopOrders.Plates(5).Lines[0];
        var quote = await shop.Get<QuoteOrder>().RunAsync(ShopOrders.Plates() with { Lines = [line, line] });
        Assert.Equal([1], quote.Short.Keys);
        Assert.Equal(3, quote.Short[1].Here);
    }

    /// <summary>So many plates are there besides those that booked pieces wait for.</summary>
    private static async Task<StockItem> FreeAsync(TestShop shop, int count, int leadDays = 5)
    {
        await using var context = await shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Clock.GetUtcNow(), default);
        var free = (await ShortBlanks.OfAsync(context, ShopOrders.Plates(1000), facts, default))[0].Here;
        var plate = await context.StockItems.SingleAsync(i => i.Code == "plate-100x60");
        Assert.True(plate.Change(plate.Facts with { LeadDays = leadDays }).IsOk);
        plate.Move(count - free);
        await context.SaveChangesAsync();
        return plate;
    }
}
