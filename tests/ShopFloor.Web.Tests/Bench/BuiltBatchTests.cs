using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Between putting a batch together and beginning it much may happen to its can, its station and its members.</summary>
public sealed class BuiltBatchTests
{
    [Theory]
    [InlineData("can-missing")]
    [InlineData("can-held")]
    [InlineData("can-expired")]
    [InlineData("can-empty")]
    public async Task Start_CanThatMustNotBeUsedAnyMore_IsRefusedUntilAnotherIsChosen(string why)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var round = await RoundAsync(shop);
        var can = await CanAsync(shop, round);
        await SpoilCanAsync(shop, can!, why);
        var refused = await StartAsync(shop, round);
        Assert.Equal(why, BenchShop.Code0(refused));
        Assert.Contains($"Scan a piece of {round} in once more", refused.Refusals[0].Text, StringComparison.Ordinal);
        BenchShop.Must(await ScanAsync(shop, round, (await shop.PiecesAsync())[0].Code));
        var other = await CanAsync(shop, round);
        Assert.NotNull(other);
        Assert.NotEqual(can!.Id, other.Id);
        BenchShop.Must(await StartAsync(shop, round));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(other.Id, p.NextAttended!.Can));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Start_StationDownOrOutOfUse_IsRefused(bool down)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var round = await RoundAsync(shop);
        await using var context = await shop.Shop.ContextAsync();
        var booth = await context.Stations.SingleAsync(s => s.Id == context.Batches.Single(b => b.Code == round).Station);
        if (down)
            booth.TakeDown(shop.Shop.Clock.GetUtcNow().AddHours(1));
        else
            await context.Stations.Where(s => s.Id == booth.Id).ExecuteUpdateAsync(s => s.SetProperty(x => x.IsActive, false));
        await context.SaveChangesAsync();
        Assert.Equal("station-missing", BenchShop.Code0(await StartAsync(shop, round)));
        Assert.All(await shop.PiecesAsync(), p => Assert.NotEqual(WorkState.Running, p.NextAttended!.State));
    }

    [Fact]
    public async Task ScanIn_PieceOfAnotherBatch_IsRefused()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var first = await BuildAsync(shop, codes[0]);
        var second = await BuildAsync(shop, codes[1]);
        Assert.Equal("in-other-batch", BenchShop.Code0(await ScanAsync(shop, second, codes[0])));
        BenchShop.Must(await ScanAsync(shop, second, codes[1]));
        BenchShop.Must(await ScanAsync(shop, first, codes[0], isOut: true));
        BenchShop.Must(await ScanAsync(shop, second, codes[0]));
    }

    [Fact]
    public async Task ScanInAndOut_CanThatWasFetched_Stays()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var round = await BuildAsync(shop, codes[0]);
        var can = (await CanAsync(shop, round))!;
        await using (var context = await shop.Shop.ContextAsync())
        {
            var soon = DateOnly.FromDateTime(shop.Shop.Clock.GetUtcNow().UtcDateTime);
            await context.Cans.Where(c => c.Id == can.Id).ExecuteUpdateAsync(c => c.SetProperty(x => x.UseBy, (DateOnly?)null));
            await context.Cans.Where(c => c.Id != can.Id).ExecuteUpdateAsync(c => c.SetProperty(x => x.UseBy, soon));
        }
        BenchShop.Must(await ScanAsync(shop, round, codes[1]));
        Assert.Equal(can.Id, (await CanAsync(shop, round))!.Id);
        BenchShop.Must(await ScanAsync(shop, round, codes[0], isOut: true));
        Assert.Equal(can.Id, (await CanAsync(shop, round))!.Id);
    }

    [Fact]
    public async Task PutAside_AfterItWasBuilt_CanBeTakenOutAndTheOthersBeginWithoutIt()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var round = await RoundAsync(shop);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        foreach (var code in codes.Take(2))
            BenchShop.Must(await shop.AsideAsync(new Target(code), "dent"));
        BenchShop.Must(await ScanAsync(shop, round, codes[0], isOut: true));
        var begun = BenchShop.Must(await StartAsync(shop, round));
        Assert.Equal($"{round} has begun: 1 piece. Put aside or gone, and so left out: {codes[1]}.", begun.Text);
        Assert.Equal(
            [(PieceState.Held, false), (PieceState.Held, false), (PieceState.InWork, true)],
            (await shop.PiecesAsync()).Select(p => (p.State, p.NextAttended!.State == WorkState.Running))
        );
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Build_TrayWithOneSpoiledAndOnePutAside_TheOthersJoinAndTheLeftOutAreNamed(bool byCodes)
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Spray);
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        BenchShop.Must(await AsideAsync(shop, codes[0], TimeChoice.Spoil));
        BenchShop.Must(await AsideAsync(shop, codes[1], TimeChoice.Hold));
        var wish = new BatchWish(byCodes ? codes : [shop.Code]);
        var built = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), wish));
        var named = string.Join(", ", codes.Take(2).Order(StringComparer.Ordinal));
        Assert.Equal($"{built.Batch} is put together: 2 pieces. Put aside or gone, and so left out: {named}.", built.Text);
    }

    [Fact]
    public async Task Build_SomeOfATrayWereChosen_AsManyJoin()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Spray);
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var tap = new Web.Bench.Tap
        {
            Move = "build",
            Code = shop.Code,
            Step = step,
            Count = 3,
        };
        var built = BenchShop.Must(await shop.Shop.Get<Web.Bench.BenchMoves>().RunAsync(shop.Ask(), tap, default));
        Assert.EndsWith("3 pieces.", built.Text, StringComparison.Ordinal);
    }

    private static Task<Result<Moved>> AsideAsync(BenchShop shop, string code, TimeChoice choice) =>
        shop
            .Shop.Get<ReportFault>()
            .RunAsync(shop.Ask(), new FaultReport(new Target(code), "run", "", new TimeDecision(choice, "look at it")));

    private static async Task<string> RoundAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Spray);
        return await BuildAsync(shop, shop.Code);
    }

    private static async Task<string> BuildAsync(BenchShop shop, string code) =>
        BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([code]))).Batch!;

    private static async Task SpoilCanAsync(BenchShop shop, Can can, string why)
    {
        await using var context = await shop.Shop.ContextAsync();
        var mine = context.Cans.Where(c => c.Id == can.Id);
        var yesterday = DateOnly.FromDateTime(shop.Shop.Clock.GetUtcNow().UtcDateTime).AddDays(-1);
        // The other cans are of another lot.
        await context.Cans.Where(c => c.Id != can.Id).ExecuteUpdateAsync(c => c.SetProperty(x => x.Lot, "other"));
        _ = why switch
        {
            "can-held" => await mine.ExecuteUpdateAsync(c => c.SetProperty(x => x.HeldBecause, "peels")),
            "can-expired" => await mine.ExecuteUpdateAsync(c => c.SetProperty(x => x.UseBy, yesterday)),
            "can-empty" => await mine.ExecuteUpdateAsync(c => c.SetProperty(x => x.LeftMl, 0)),
            _ => BenchShop.Must(await shop.Shop.Get<HoldLot>().RunAsync(shop.Ask(), new LotWish(can.Code, "peels"))).Codes.Count,
        };
    }

    private static async Task<Can?> CanAsync(BenchShop shop, string round)
    {
        await using var context = await shop.Shop.ContextAsync();
        var id = (await context.Batches.AsNoTracking().SingleAsync(b => b.Code == round)).Can;
        return id is null ? null : await context.Cans.AsNoTracking().SingleAsync(c => c.Id == id);
    }

    private static Task<Result<Moved>> StartAsync(BenchShop shop, string batch) =>
        shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(batch, IsHot: true));

    private static Task<Result<Moved>> ScanAsync(BenchShop shop, string batch, string piece, bool isOut = false) =>
        shop.Shop.Get<ScanIntoBatch>().RunAsync(shop.Ask(), new ScanAtBatch(batch, piece, isOut));
}
