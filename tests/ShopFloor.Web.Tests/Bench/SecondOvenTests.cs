using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>With two ovens two loads bake at once, also when they are begun from a piece's page, which names none.</summary>
public sealed class SecondOvenTests
{
    [Fact]
    public async Task Start_WhileTheFirstOvenBakes_TakesTheSecond()
    {
        await using var shop = await BenchShop.OpenAsync(1, before: s => OvenAsync(s, o => o));
        var second = await shop.BookAsync(1, false, Finish.WhiteGround, "al");
        Assert.Equal(["oven-1", "oven-2"], [await CureAsync(shop, shop.Code), await CureAsync(shop, second)]);
    }

    [Fact]
    public async Task Start_OfAPieceThatTheFirstOvenIsTooSmallFor_TakesTheSecond()
    {
        await using var shop = await BenchShop.OpenAsync(1, before: s => OvenAsync(s, o => o));
        await using var context = await shop.Shop.ContextAsync();
        var first = await context.Stations.SingleAsync(s => s.Code == "oven-1");
        var small = new Shelf(Length.FromMillimetres(80), Length.FromMillimetres(80), Length.FromMillimetres(60));
        Assert.True(first.Change(first.Name, (OvenSettings)first.Settings with { Shelves = [small] }).IsOk);
        await context.SaveChangesAsync();
        Assert.Equal("oven-2", await CureAsync(shop, shop.Code));
    }

    [Fact]
    public async Task Fitting_WithASecondOven_KnowsTheHeatOfEachUnlessTheyAreAlike()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        Assert.Equal([20], await HeatTransfersAsync(shop));
        await OvenAsync(shop.Shop, o => o);
        Assert.Equal([20], await HeatTransfersAsync(shop));
        await OvenAsync(shop.Shop, o => o with { HeatTransfer = 9 }, "Third oven");
        Assert.Equal([20, 9], await HeatTransfersAsync(shop));
    }

    private static async Task<IEnumerable<double>> HeatTransfersAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var facts = await ShopFacts.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), default);
        var material = facts.Settings.Material("al");
        var line = await context.Orders.SelectMany(o => o.Lines).AsNoTracking().FirstAsync();
        return facts.FittingFor(facts.RecipeFor(Finish.WhiteGround, material)!, material, line.Piece).Ovens.Select(o => o.ConvectionWM2K);
    }

    private static async Task<string> CureAsync(BenchShop shop, string code)
    {
        await shop.WorkToAsync(StepKind.Cure, code);
        var step = (await shop.PiecesAsync()).First(p => (p.Tray ?? p.Code) == code).NextAttended!;
        var begun = BenchShop.Must(
            await shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), new StartWish(new Target(code, step.Number), IsHot: true))
        );
        await using var context = await shop.Shop.ContextAsync();
        var batch = await context.Batches.SingleAsync(b => b.Code == begun.Batch);
        return (await context.Stations.SingleAsync(s => s.Id == batch.Station)).Code;
    }

    internal static Task AddOvenAsync(TestShop shop) => OvenAsync(shop, o => o);

    private static async Task OvenAsync(TestShop shop, Func<OvenSettings, OvenSettings> change, string name = "Second oven")
    {
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var added = await shop.Get<AddStation>().RunAsync(Asked.By(owner), new NewStation(StationKind.Oven, name));
        var row = (await shop.Get<StationListView>().LoadAsync()).Single(s => s.Code == added.Value);
        var input = new StationInput(row.Id, row.Version, row.Name, change((OvenSettings)row.Settings), null, true);
        Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), input)).IsOk);
    }
}
