using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A piece that goes back to an earlier step leaves the batch it was in: it is work of its own again.</summary>
public sealed class SentBackTests
{
    [Fact]
    public async Task SentBack_OutOfARunningRound_StandsAmongWhatComesAndItsWaitOnTheWall()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Spray);
        var spray = (await shop.PiecesAsync())[0].NextAttended!.Number;
        BenchShop.Must(await shop.StartAsync(spray));
        var code = (await shop.PiecesAsync())[0].Code;
        Assert.Empty(BenchHome.Project(await WorkAsync(shop)).Ready);
        await BackAsync(shop, code);
        var line = Assert.Single(BenchHome.Project(await WorkAsync(shop)).Ready);
        Assert.Equal(("Clean", 1), (line.Word, line.Count));

        while ((await shop.PieceAsync(code)).NextAttended is { } next && next.Number < spray)
            BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(code, next.Number))));
        var now = new WorkNow(await WorkAsync(shop), null, new Dictionary<CanId, string>());
        Assert.Contains(WallSheet.Of(now, shop.Shop.Clock.GetUtcNow(), []).Timers, t => t.Timer.Word == "Since wipe promoter");
    }

    [Fact]
    public async Task SentBack_OutOfARoundThatIsPutTogether_TheOthersBeginWithoutIt()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Spray);
        var round = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]))).Batch!;
        var code = (await shop.PiecesAsync())[0].Code;
        await BackAsync(shop, code);
        Assert.Equal(1, Assert.Single(BenchHome.Project(await WorkAsync(shop)).Ready).Count);
        var begun = BenchShop.Must(await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(round)));
        Assert.Equal($"{round} has begun: 2 pieces. Put aside or gone, and so left out: {code}.", begun.Text);
        Assert.Equal(1, (await shop.PieceAsync(code)).NextAttended!.Number);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(2, (await context.Batches.SingleAsync(b => b.Code == round)).Places.Count);
    }

    [Fact]
    public async Task SentBack_OutOfALoadThatIsPutTogether_CanBeSprayedAgainAndHidesNothing()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]))).Batch!;
        var code = (await shop.PiecesAsync())[0].Code;
        await BackAsync(shop, code);
        while ((await shop.PieceAsync(code)).NextAttended is { Kind: not StepKind.Spray } next)
            BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(code, next.Number))));
        var round = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([code]))).Batch!;
        Assert.NotEqual(load, round);
        // A member that is scanned once more lays out the others without it.
        var other = (await shop.PiecesAsync())[1].Code;
        BenchShop.Must(await shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(load, other)));
    }

    private static async Task BackAsync(BenchShop shop, string code)
    {
        var back = new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Rework, "dust in it", 1));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), back));
    }

    private static async Task<OpenWork> WorkAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default);
    }
}
