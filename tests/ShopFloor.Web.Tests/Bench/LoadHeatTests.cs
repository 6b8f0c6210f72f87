using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A heavy load stays in until its oven's heater can have given it the heat, however short the pieces' own time is.</summary>
public sealed class LoadHeatTests
{
    private const int Longer = 60;

    [Fact]
    public async Task Load_HeavierThanItsTime_StaysInUntilTheHeaterHasGivenTheHeat()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        var (step, heat) = await HeavyAsync(shop, 4);
        var load = BenchShop.Must(await BuildAsync(shop)).Batch!;
        Assert.Equal(heat, (await BatchAsync(shop, load)).Settings.MinSeconds);
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!;
        Assert.Contains(sheet.Settings, s => s.Label == "Time" && s.Value == StepWords.Window(heat, step.MaxSeconds));
        BenchShop.Must(await StartAsync(shop, load));

        shop.Wait(step.MinSeconds);
        var early = await shop.FinishBatchAsync(new FinishBatchWish(load));
        var asked = Assert.Single(early.Refusals);
        Assert.Equal("too-early", asked.Code);
        Assert.Contains($"The heater needs {StepWords.Span(heat)}", asked.Text, StringComparison.Ordinal);
        shop.Wait(heat - step.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
    }

    [Fact]
    public async Task Load_OfWhichOnlySomeGoIn_NeedsNoMoreThanThey()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        var (step, _) = await HeavyAsync(shop, 4);
        var load = BenchShop.Must(await BuildAsync(shop)).Batch!;
        var code = (await shop.PiecesAsync())[0].Code;
        BenchShop.Must(await shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(load, code)));
        BenchShop.Must(await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, OnlyScanned: true, IsHot: true)));
        Assert.Equal(step.MinSeconds, (await BatchAsync(shop, load)).Settings.MinSeconds);
        shop.Wait(step.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
    }

    [Fact]
    public async Task Load_WhoseOvenIsStrongOrUnknown_NeedsItsPiecesTimeOnly()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        await WattsAsync(shop, null);
        var load = BenchShop.Must(await BuildAsync(shop)).Batch!;
        Assert.Equal((await shop.PiecesAsync())[0].NextAttended!.Settings.MinSeconds, (await BatchAsync(shop, load)).Settings.MinSeconds);
    }

    // An oven so weak that the whole load takes a minute longer than one piece.
    private static async Task<(RecipeStep Step, int Heat)> HeavyAsync(BenchShop shop, int count)
    {
        await shop.WorkToAsync(StepKind.Cure);
        var step = (await shop.PiecesAsync())[0].NextAttended!.Settings;
        var watts = (int)(count * step.HeatKilojoules * 1000 / (step.MinSeconds + Longer));
        Assert.True(watts > 0);
        await WattsAsync(shop, watts);
        return (step, (int)Math.Ceiling(count * step.HeatKilojoules * 1000 / watts));
    }

    private static async Task WattsAsync(BenchShop shop, int? watts)
    {
        await using var context = await shop.Shop.ContextAsync();
        // The pieces of the test are light: a real heater is never so weak, so the station's own limits are not asked.
        var oven = await context.Stations.SingleAsync(s => s.Kind == StationKind.Oven);
        var settings = (OvenSettings)oven.Settings with { HeaterWatts = watts };
        context.Entry(oven).Property(o => o.Settings).CurrentValue = settings;
        await context.SaveChangesAsync();
    }

    private static Task<Result<Moved>> BuildAsync(BenchShop shop) =>
        shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]));

    private static Task<Result<Moved>> StartAsync(BenchShop shop, string load) =>
        shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, IsHot: true));

    private static async Task<Batch> BatchAsync(BenchShop shop, string code)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Batches.AsNoTracking().SingleAsync(b => b.Code == code);
    }
}
