using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
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

        shop.Wait((await shop.PiecesAsync())[0].NextAttended!.Settings.MinSeconds);
        var end = Guid.CreateVersion7();
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, 160), end));
        Assert.Equal($"{kept}; 160 °C", await ReadOffAsync(shop, load));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal($"{kept}; 160 °C", Cure(p).Measured));

        BenchShop.Must(await shop.UndoAsync(end));
        Assert.Equal(kept, await ReadOffAsync(shop, load));
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
