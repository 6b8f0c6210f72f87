using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What was sprayed onto a piece that leaves its round has left the can, and comes back with the tap alone.</summary>
public sealed class LostInSprayTests
{
    [Theory]
    [InlineData(TimeChoice.Spoil, 1, 3)]
    [InlineData(TimeChoice.Rework, 1, 3)]
    [InlineData(TimeChoice.Hold, 0, 3)]
    [InlineData(TimeChoice.GoOn, 0, 3)]
    public async Task Fault_InTheMiddleOfARound_TakesTheCoatOutOfTheCanOnce(TimeChoice follows, int atOnce, int inAll)
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var (round, step) = await SprayAsync(shop);
        var (full, ml) = (await LeftAsync(shop, round), Item(await shop.PiecesAsync(), step).Settings.Ml);
        Assert.True(ml > 0);
        var command = Guid.CreateVersion7();
        var decided = new TimeDecision(follows, "ran", follows == TimeChoice.Rework ? step : null);
        var report = new FaultReport(new Target((await shop.PiecesAsync())[0].Code), "run", "", decided);

        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(command), report));
        Assert.Equal(full - (atOnce * ml), await LeftAsync(shop, round));
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.Equal(full, await LeftAsync(shop, round));

        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        shop.Wait(60);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(round)));
        Assert.Equal(full - (inAll * ml), await LeftAsync(shop, round));
        await using var context = await shop.Shop.ContextAsync();
        var can = (await context.Batches.SingleAsync(b => b.Code == round)).Can;
        var used = await context.StockMoves.Where(m => m.Can == can && m.Batch != null).ToListAsync();
        Assert.Equal(-inAll * ml, used.Sum(m => m.Amount));
        Assert.All(used, m => Assert.True(m.Reason is StockReason.Use or StockReason.UseUndone));
    }

    [Fact]
    public async Task GivenBack_WhilePutAsideInTheRound_TakesTheCoatOutOfTheCan()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var (round, step) = await SprayAsync(shop);
        var (full, ml) = (await LeftAsync(shop, round), Item(await shop.PiecesAsync(), step).Settings.Ml);
        BenchShop.Must(await shop.AsideAsync(new Target(shop.Code), "customer rang"));
        BenchShop.Must(await shop.Shop.Get<ReturnPieces>().RunAsync(shop.Ask(), new WithReason(new Target(shop.Code), "wanted back")));
        Assert.Equal(full - ml, await LeftAsync(shop, round));
    }

    private static WorkItem Item(IReadOnlyList<Piece> pieces, int step) => pieces[0].Items.First(i => i.Number == step);

    private static async Task<decimal> LeftAsync(BenchShop shop, string round)
    {
        await using var context = await shop.Shop.ContextAsync();
        var can = (await context.Batches.SingleAsync(b => b.Code == round)).Can;
        return (await context.Cans.SingleAsync(c => c.Id == can)).LeftMl;
    }

    private static async Task<(string Round, int Step)> SprayAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Spray);
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        return (BenchShop.Must(await shop.StartAsync(step)).Batch!, step);
    }
}
