using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A reading that did not end its load stays with it, and with what was in it.</summary>
public sealed class KeptReadingTests
{
    [Fact]
    public async Task Keep_LoadTooCold_StandsOnItsPageAndWithItsPiecesBesideTheLastReading()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var kept = await KeepAsync(shop, load, 131.5m);
        Assert.StartsWith("131.5 °C at ", kept, StringComparison.Ordinal);
        Assert.EndsWith(", left in longer", kept, StringComparison.Ordinal);

        shop.Wait(((await SheetAsync(shop, load)).Timer!.Min!.Value - shop.Shop.Clock.GetUtcNow()).TotalSeconds);
        var end = Guid.CreateVersion7();
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, 160), end));
        Assert.Equal($"{kept}; 160 °C", await ReadOffAsync(shop, load));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal($"{kept}; 160 °C", Cure(p).Measured));

        BenchShop.Must(await shop.UndoAsync(end));
        Assert.Equal(kept, await ReadOffAsync(shop, load));
    }

    [Fact]
    public async Task Keep_LoadTooCold_ItsShortestTimeCountsAnewFromWhenItIsWarm()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var (cure, rate) = ((await shop.PiecesAsync())[0].NextAttended!.Settings, await HeatingAsync(shop));
        shop.Wait(cure.MinSeconds);
        BenchShop.Must(await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, 131)));
        var warm = shop.Shop.Clock.GetUtcNow().AddMinutes((double)((cure.Celsius!.Value - 131) / rate));
        var timer = (await SheetAsync(shop, load)).Timer!;
        Assert.Equal((warm, warm.AddSeconds(cure.MinSeconds)), (timer.Since, timer.Min));
        Assert.Equal(timer.Min, timer.Max);
        Assert.Equal(timer.Min, (await PieceTimerAsync(shop)).Min);

        shop.Wait(60);
        Assert.Equal("too-early", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load, 160))));
        shop.Wait((timer.Min!.Value - shop.Shop.Clock.GetUtcNow()).TotalSeconds - 1);
        Assert.Equal("too-early", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load, 160))));
        // Long past the longest time from its beginning: somebody says what becomes of it.
        shop.Wait(1);
        Assert.Equal("too-late", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load, 160))));
        var decision = new TimeDecision(TimeChoice.GoOn, "hardly warm before");
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, 160, Decision: decision)));
    }

    [Fact]
    public async Task Keep_LoadAlmostWarm_ItsLongestTimeGoesOn()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var before = (await SheetAsync(shop, load)).Timer!;
        shop.Wait(60);
        await KeepAsync(shop, load, 154);
        var after = (await SheetAsync(shop, load)).Timer!;
        Assert.True(after.Min > before.Min);
        Assert.Equal(before.Max, after.Max);

        shop.Wait((before.Max!.Value - shop.Shop.Clock.GetUtcNow()).TotalSeconds + 1);
        Assert.Equal("too-late", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load, 160))));
    }

    [Fact]
    public async Task Keep_WarmAfterAReadingThatWasASlip_ItsTimeCountsFromThen()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var least = (await shop.PiecesAsync())[0].NextAttended!.Settings.MinSeconds;
        await KeepAsync(shop, load, 15);
        Assert.True((await SheetAsync(shop, load)).Timer!.Since > shop.Shop.Clock.GetUtcNow().AddSeconds(60));

        shop.Wait(60);
        await KeepAsync(shop, load, 158);
        var (warm, timer) = (shop.Shop.Clock.GetUtcNow(), (await SheetAsync(shop, load)).Timer!);
        Assert.Equal((warm, warm.AddSeconds(least)), (timer.Since, timer.Min));

        // From then on it goes on.
        shop.Wait(60);
        await KeepAsync(shop, load, 159);
        Assert.Equal(timer, (await SheetAsync(shop, load)).Timer);
    }

    [Fact]
    public async Task Keep_WarmEnough_ItsTimeGoesOn()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var before = (await SheetAsync(shop, load)).Timer;
        shop.Wait(60);
        BenchShop.Must(await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, 158)));
        Assert.Equal(before, (await SheetAsync(shop, load)).Timer);
    }

    [Fact]
    public async Task Keep_LoadThatIsPutTogetherAgain_BeginsAsIfNothingHadBeenRead()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var begin = Guid.CreateVersion7();
        var load = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number, command: begin)).Batch!;
        BenchShop.Must(await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, 20)));
        BenchShop.Must(await shop.UndoAsync(begin));
        shop.Wait(5);
        BenchShop.Must(await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, IsHot: true)));
        Assert.Equal(shop.Shop.Clock.GetUtcNow(), (await SheetAsync(shop, load)).Timer!.Since);
    }

    [Fact]
    public async Task Keep_LoadThatIsStopped_StaysKnown()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var kept = await KeepAsync(shop, load, 90);
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Power cut")));
        Assert.Equal(kept, await ReadOffAsync(shop, load));
    }

    [Fact]
    public async Task Keep_NothingRead_OrALoadThatIsOver_IsRefused()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        var none = await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, null));
        Assert.Equal("reading-missing", BenchShop.Code0(none));
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Power cut")));
        var late = await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, 90));
        Assert.Equal("batch-not-running", BenchShop.Code0(late));
    }

    private static async Task<BatchSheet> SheetAsync(BenchShop shop, string load) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!;

    private static async Task<StepTimer> PieceTimerAsync(BenchShop shop) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0].Step!.Timer!;

    private static async Task<decimal> HeatingAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return ((OvenSettings)(await context.Stations.SingleAsync(s => s.Kind == StationKind.Oven)).Settings).HeatingPerMinute;
    }

    private static WorkItem Cure(Piece piece) => piece.Items.First(i => i.Kind == StepKind.Cure && i.State == WorkState.Done);

    private static async Task<string> KeepAsync(BenchShop shop, string load, decimal celsius)
    {
        BenchShop.Must(await shop.Shop.Get<KeepReading>().RunAsync(shop.Ask(), new ReadingWish(load, celsius)));
        return await ReadOffAsync(shop, load);
    }

    private static async Task<string> ReadOffAsync(BenchShop shop, string load) =>
        (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!.Settings.Single(s => s.Label == "Read off").Value;

    private static async Task<string> CureAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Cure);
        return BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
    }
}
