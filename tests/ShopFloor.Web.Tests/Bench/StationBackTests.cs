using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Live;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;
using StationKind = ShopFloor.Domain.Stations.StationKind;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A station that the Bench took down is brought back there, and either tap can be taken back.</summary>
public sealed class StationBackTests
{
    [Fact]
    public async Task WorksAgain_BrokenOven_IsPlannedWithAgainUntilItIsTakenBack()
    {
        await using var shop = await BrokenAsync();
        Assert.True(await IsDownInThePlanAsync(shop));
        var told = new List<Change>();
        using var _ = shop.Shop.Get<Notifier>().Subscribe([Topic.Station], told.AddRange);

        var back = Guid.CreateVersion7();
        Assert.Equal("Convection oven works again.", BenchShop.Must(await BackAsync(shop, back)).Text);
        Assert.Null((await OvenAsync(shop)).DownUntil);
        Assert.False(await IsDownInThePlanAsync(shop));
        Assert.Single(told, c => c.Topic == Topic.Station);
        Assert.Equal("station-works", BenchShop.Code0(await BackAsync(shop, Guid.CreateVersion7())));

        Assert.Equal("Convection oven is as it was before.", BenchShop.Must(await shop.UndoAsync(back)).Text);
        Assert.True(await IsDownInThePlanAsync(shop));
        Assert.Equal("station-changed", BenchShop.Code0(await shop.UndoAsync(back)));
    }

    [Fact]
    public async Task Undo_OfTheStopThatTookItDown_BringsTheOvenBackWithTheLoad()
    {
        var stop = Guid.CreateVersion7();
        await using var shop = await BrokenAsync(stop);
        BenchShop.Must(await shop.UndoAsync(stop));
        Assert.Null((await OvenAsync(shop)).DownUntil);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(BatchState.Running, (await context.Batches.SingleAsync(b => b.Kind == BatchKind.OvenLoad)).State);
    }

    [Fact]
    public async Task Undo_OfTheStop_LeavesAStationAsSomebodyElseSetItSince()
    {
        var stop = Guid.CreateVersion7();
        await using var shop = await BrokenAsync(stop);
        var longer = shop.Shop.Clock.GetUtcNow().AddHours(30);
        await using (var context = await shop.Shop.ContextAsync())
        {
            (await context.Stations.SingleAsync(s => s.Kind == StationKind.Oven)).TakeDown(longer);
            await context.SaveChangesAsync();
        }
        BenchShop.Must(await shop.UndoAsync(stop));
        Assert.Equal(longer, (await OvenAsync(shop)).DownUntil);
    }

    [Fact]
    public async Task FirstPage_AndTheLoadsPage_OfferTheBrokenOvenBackUntilItWorks()
    {
        await using var shop = await BrokenAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            var home = BenchHome.Project(await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default));
            Assert.Equal(("oven-1", "Convection oven"), (Assert.Single(home.Down).Code, home.Down[0].Name));
            var load = await context.Batches.SingleAsync(b => b.Kind == BatchKind.OvenLoad);
            var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(load.Code)).Value.Batch!;
            Assert.Equal(home.Down[0].Until, sheet.DownUntil);
        }
        await using var page = TestPage.Plain();
        var card = page.Render<DownStation>(p =>
            p.Add(d => d.Code, "oven-1")
                .Add(d => d.Name, "Convection oven")
                .Add(d => d.Until, shop.Shop.Clock.GetUtcNow())
                .Add(d => d.Zone, TimeZoneInfo.Utc)
        );
        var tap = JsonSerializer.Deserialize<Tap>(card.Find("[data-move]").GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(("worksAgain", "oven-1"), (tap.Move, tap.Code));

        BenchShop.Must(await BackAsync(shop, Guid.CreateVersion7()));
        await using var after = await shop.Shop.ContextAsync();
        Assert.Empty(BenchHome.Project(await OpenWork.LoadAsync(after, shop.Shop.Clock.GetUtcNow(), null, default)).Down);
    }

    private static Task<Domain.Result<Moved>> BackAsync(BenchShop shop, Guid command) =>
        shop.Shop.Get<BringStationBack>().RunAsync(shop.Ask(command), "oven-1");

    private static async Task<Domain.Stations.Station> OvenAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Stations.SingleAsync(s => s.Kind == StationKind.Oven);
    }

    private static async Task<bool> IsDownInThePlanAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), CancellationToken.None);
        return DayFromShop.Make(snapshot).Stations.OfType<Oven>().Single().Down.Any();
    }

    private static async Task<BenchShop> BrokenAsync(Guid? stop = null)
    {
        var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        BenchShop.Must(
            await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(stop), new StopBatchWish(load, "Station broken", BrokenHours: 8))
        );
        return shop;
    }
}
