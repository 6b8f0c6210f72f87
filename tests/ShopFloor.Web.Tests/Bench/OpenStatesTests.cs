using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Today;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What is open is looked up by its states: what was done in years is not read to find it.</summary>
public sealed class OpenStatesTests
{
    [Fact]
    public async Task Read_WhatIsOpen_LooksThroughNoOtherPiece()
    {
        await using var bench = await BenchShop.OpenAsync();
        var now = bench.Shop.Clock.GetUtcNow();
        await using var context = await bench.Shop.ContextAsync();
        bench.Shop.Reads.Clear();
        Assert.Equal(12, (await OpenWork.LoadAsync(context, now, null, default)).Pieces.Count);
        Assert.Equal(12, (await ShopSnapshot.ReadPromisedAsync(context, now, default)).Pieces.Count);
        _ = await bench.Shop.Get<TodayView>().LoadAsync();
        Assert.Equal(1, (await bench.Shop.Get<OrderListView>().LoadAsync("", OrderFilter.Open, OrderSort.Newest, new(0, 10))).Count);
        Assert.True(bench.Shop.Reads.Asked("FROM \"Pieces\"") > 5);
        Assert.Empty(await bench.Shop.Reads.ScansAsync(context, "Pieces"));
    }
}
