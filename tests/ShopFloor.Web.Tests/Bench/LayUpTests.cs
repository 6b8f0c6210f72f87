using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A tray's label is scanned at a batch that is put together, and one that was given up is taken back.</summary>
public sealed class LayUpTests
{
    [Fact]
    public async Task ScanTray_OfWhichSomeAreInTheBatch_NotesThoseAndNoOthers()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Spray);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var round = await BuildAsync(shop, [.. codes.Take(2)]);
        await SpoilAsync(shop, codes[3]);
        BenchShop.Must(await ScanAsync(shop, round, shop.Code));
        var places = (await BatchAsync(shop, round)).Places;
        Assert.Equal([(true, true), (true, true)], places.Select(p => (p.IsIn, true)));
    }

    [Fact]
    public async Task ScanTray_OfWhichNoneIsInTheBatch_ThoseThatAreUpJoin()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Spray);
        var other = await shop.BookAsync(1, own: true, Finish.WhiteGround, "al");
        await shop.WorkToAsync(StepKind.Spray, other);
        var round = await BuildAsync(shop, [other]);
        await SpoilAsync(shop, (await shop.PiecesAsync()).First(p => p.Tray == shop.Code).Code);
        BenchShop.Must(await ScanAsync(shop, round, shop.Code));
        Assert.Equal(3, (await BatchAsync(shop, round)).Places.Count);
    }

    [Fact]
    public async Task GiveUp_TakenBack_IsPutTogetherAsItWasWhileItsPiecesAreFree()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var round = await BuildAsync(shop, codes);
        BenchShop.Must(await ScanAsync(shop, round, codes[0]));
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.Shop.Get<DropBatch>().RunAsync(shop.Ask(command), round));

        var said = BenchShop.Must(await shop.UndoAsync(command));
        Assert.Equal($"{round} is put together again: 2 pieces.", said.Text);
        var back = await BatchAsync(shop, round);
        Assert.Equal((BatchState.Building, 1), (back.State, back.Places.Count(p => p.IsIn)));
        Assert.False((await shop.UndoAsync(command)).IsOk);

        BenchShop.Must(await shop.Shop.Get<DropBatch>().RunAsync(shop.Ask(command = Guid.CreateVersion7()), round));
        var anew = await BuildAsync(shop, [codes[1]]);
        Assert.Equal("in-other-batch", BenchShop.Code0(await shop.UndoAsync(command)));
        BenchShop.Must(await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(anew, IsHot: true)));
        Assert.Equal("moved-on", BenchShop.Code0(await shop.UndoAsync(command)));
        Assert.Equal(BatchState.Dropped, (await BatchAsync(shop, round)).State);
    }

    private static async Task SpoilAsync(BenchShop shop, string code)
    {
        var lost = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Spoil, "fell down"));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), lost));
    }

    private static async Task<string> BuildAsync(BenchShop shop, IReadOnlyList<string> codes) =>
        BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish(codes))).Batch!;

    private static Task<Result<Moved>> ScanAsync(BenchShop shop, string batch, string piece) =>
        shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(batch, piece));

    private static async Task<Batch> BatchAsync(BenchShop shop, string code)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Batches.AsNoTracking().SingleAsync(b => b.Code == code);
    }
}
