using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A station breaks in the middle of a load, and one that is cold says when it is warm; a piece that goes out says whether it is paid.</summary>
public sealed class StationTroubleTests
{
    [Theory]
    [InlineData(8, true)]
    [InlineData(null, false)]
    public async Task Stop_StationBroken_TakesItDownWhereSoWished(int? hours, bool down)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await LoadAsync(shop);
        var said = BenchShop.Must(
            await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Station broken", BrokenHours: hours))
        );
        await using var context = await shop.Shop.ContextAsync();
        var batch = await context.Batches.SingleAsync(b => b.Code == load);
        var station = await context.Stations.SingleAsync(s => s.Id == batch.Station);
        Assert.Equal(("Station broken", BatchState.Stopped), (batch.Reason, batch.State));
        Assert.Equal(down ? shop.Shop.Clock.GetUtcNow().AddHours(8) : null, station.DownUntil);
        Assert.Equal(down, said.Text.Contains("cannot be used for 8 hours", StringComparison.Ordinal));
        Assert.Equal(down ? 1 : 0, await context.Audit.CountAsync(a => a.What == "station broken" && a.Subject == station.Code));
    }

    [Fact]
    public async Task Stop_PressSession_ItsSheetIsUsedAllTheSame()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Press);
        var session = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        await using var context = await shop.Shop.ContextAsync();
        var before = await context.StockItems.Where(i => i.Kind == StockItem.Sheet).SumAsync(i => i.OnHand);
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(command), new StopBatchWish(session, "Power cut")));
        Assert.Equal(before - 1, await context.StockItems.Where(i => i.Kind == StockItem.Sheet).SumAsync(i => i.OnHand));
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.Equal(before, await context.StockItems.Where(i => i.Kind == StockItem.Sheet).SumAsync(i => i.OnHand));
    }

    [Fact]
    public async Task Stop_BrokenForNoTime_IsRefusedAndTheLoadGoesOn()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await LoadAsync(shop);
        var no = await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Station broken", BrokenHours: 0));
        Assert.Equal("broken-hours", BenchShop.Code0(no));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(BatchState.Running, (await context.Batches.SingleAsync(b => b.Code == load)).State);
    }

    [Fact]
    public async Task StopPanel_StationBroken_AsksForHowLong()
    {
        await using var page = TestPage.Plain();
        var sheet = new BatchSheet
        {
            Code = "L-1",
            Kind = BatchKind.OvenLoad,
            State = BatchState.Running,
            StationName = "Convection oven",
        };
        var panel = page.Render<StopPanel>(p => p.Add(s => s.Sheet, sheet).Add(s => s.OnBack, () => { }));
        await panel.FindAll("button").Single(b => b.TextContent == "Station broken").ClickAsync();
        var taps = panel
            .FindAll("[data-move]")
            .Select(b => JsonSerializer.Deserialize<Tap>(b.GetAttribute("data-move")!, JsonForms.Default)!)
            .ToList();
        Assert.All(taps, t => Assert.Equal(("stopBatch", "Station broken", "L-1"), (t.Move, t.Reason, t.Code)));
        Assert.Equal([2, 8, 24, 72, null], taps.Select(t => t.BrokenHours));
    }

    [Fact]
    public async Task Batch_AtAColdOven_SaysWhenItIsWarmByItsRate()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var built = BenchShop.Must(
            await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code], null, null, null, null))
        );
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(built.Batch)).Value.Batch!;
        await using var context = await shop.Shop.ContextAsync();
        var batch = await context.Batches.SingleAsync(b => b.Code == built.Batch);
        var oven = (OvenSettings)(await context.Stations.SingleAsync(s => s.Id == batch.Station)).Settings;
        var room = new ShopFloor.Domain.Workshop.WorkshopProfile().RoomCelsius;
        var minutes = (double)((batch.Settings.Celsius!.Value - room) / oven.HeatingPerMinute);
        Assert.Equal(shop.Shop.Clock.GetUtcNow().AddMinutes(minutes), sheet.WarmAt!.Value, TimeSpan.FromSeconds(1));

        BenchShop.Must(await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(built.Batch!, IsHot: true)));
        Assert.Null((await shop.Shop.Get<FindByCode>().ReadAsync(built.Batch)).Value.Batch!.WarmAt);
    }

    [Fact]
    public void WarmAt_WarmAlreadyOrRateUnknown_SaysNothing()
    {
        var now = DateTimeOffset.UnixEpoch;
        Assert.Equal(now.AddMinutes(12), WarmUp.At(now, 65, 185, 10));
        Assert.Null(WarmUp.At(now, 185, 185, 10));
        Assert.Null(WarmUp.At(now, 20, 185, null));
    }

    [Fact]
    public async Task HandOver_OrderNotPaid_SaysSoAtTheBenchWithoutAnAmount()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var money = (await shop.Shop.Get<OpenMoneyView>().LoadAsync(1))!;
        await using (var context = await shop.Shop.ContextAsync())
            Assert.Equal((await context.Orders.SingleAsync()).Gross, money.Amount);
        await using var page = TestPage.Plain();
        page.Services.AddSingleton(shop.Shop.Get<OpenMoneyView>());
        var word = page.Render<PaidWord>(p => p.Add(w => w.Order, 1));
        Assert.Contains("is not all paid", word.Find(".notice.warn").TextContent, StringComparison.Ordinal);
        Assert.DoesNotContain(
            money.Amount.ToString("N2", System.Globalization.CultureInfo.CurrentCulture),
            word.Markup,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public void Foot_ANoticeInIt_StandsAboveTheButtonsOverTheWholeWidth()
    {
        var sheet = Tree.Text("src/ShopFloor.Web/wwwroot/bench/bench.css");
        var rule = sheet[sheet.IndexOf(".bench-foot > .notice {", StringComparison.Ordinal)..];
        rule = rule[..rule.IndexOf('}', StringComparison.Ordinal)];
        Assert.Contains("order: -1", rule, StringComparison.Ordinal);
        Assert.Contains("flex: 1 0 100%", rule, StringComparison.Ordinal);
    }

    private static async Task<string> LoadAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Cure);
        return BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
    }
}
