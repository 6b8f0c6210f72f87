using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A piece that ends while it runs in a load leaves it: the others end without it, and the oven is free when it was the last.</summary>
public sealed class LeavesBatchTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Spoiled_WhileItRuns_TheOthersAreFinishedWithoutIt(bool asItWasKeptBefore)
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var (load, cure) = await CureAsync(shop);
        var lost = (await shop.PiecesAsync())[0];
        BenchShop.Must(await SpoilAsync(shop, lost.Code));
        if (asItWasKeptBefore)
            await RunsOnAsync(shop, lost.Id, cure);
        shop.Wait((await shop.PiecesAsync())[1].NextAttended!.Settings.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!;
        Assert.Equal((BatchState.Done, 2), (sheet.State, Assert.Single(sheet.After).Count));
        Assert.All((await shop.PiecesAsync()).Skip(1), p => Assert.Equal(WorkState.Done, p.Items.First(i => i.Number == cure).State));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Spoiled_WhileItRuns_TheOthersAreBrokenOffWithoutIt(bool asItWasKeptBefore)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var (load, cure) = await CureAsync(shop);
        var lost = (await shop.PiecesAsync())[0];
        BenchShop.Must(await SpoilAsync(shop, lost.Code));
        if (asItWasKeptBefore)
            await RunsOnAsync(shop, lost.Id, cure);
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Power cut")));
        Assert.Equal(WorkState.Ready, (await shop.PiecesAsync())[1].NextAttended!.State);
    }

    [Fact]
    public async Task Spoiled_LastOne_EndsTheLoadAndTakenBackItRunsAgain()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var (load, _) = await CureAsync(shop);
        var before = await shop.FactsAsync();
        var command = Guid.CreateVersion7();
        var said = BenchShop.Must(await SpoilAsync(shop, shop.Code, command)).Text;
        Assert.Equal($"{shop.Code} spoiled. Nothing runs in {load} any more: it is over.", said);
        Assert.Equal(BatchState.Stopped, await StateAsync(shop, load));
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.Equal(BatchState.Running, await StateAsync(shop, load));
        Assert.Equal(before, await shop.FactsAsync());
    }

    [Theory]
    [InlineData(TimeChoice.Spoil, false)]
    [InlineData(TimeChoice.Rework, false)]
    [InlineData(TimeChoice.Spoil, true)]
    public async Task Undo_LoadWasEndedBySomebodyElseSince_StaysOverAndThePieceCameOutWithIt(TimeChoice choice, bool stopped)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var (load, cure) = await CureAsync(shop);
        var code = (await shop.PiecesAsync())[0].Code;
        var command = Guid.CreateVersion7();
        var decided = new TimeDecision(choice, "looks bad", choice == TimeChoice.Rework ? 1 : null);
        var report = new FaultReport(new Target(code), "run", "", decided);
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(command), report));
        shop.Wait((await shop.PiecesAsync())[1].NextAttended!.Settings.MinSeconds);
        var ended = shop.Shop.Clock.GetUtcNow();
        BenchShop.Must(
            stopped
                ? await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(load, "Power cut"))
                : await shop.FinishBatchAsync(new FinishBatchWish(load, Celsius: (await BatchAsync(shop, load)).Settings.Celsius))
        );
        var before = BenchShop.Facts((await shop.PiecesAsync())[1]);
        shop.Wait(300);
        var undo = Guid.CreateVersion7();
        BenchShop.Must(await shop.Shop.Get<UndoLast>().RunAsync(shop.Ask(undo), new UndoWish(null, command)));

        var batch = await BatchAsync(shop, load);
        Assert.Equal((stopped ? BatchState.Stopped : BatchState.Done, ended), (batch.State, batch.FinishedAt));
        Assert.Equal(before, BenchShop.Facts((await shop.PiecesAsync())[1]));
        var piece = await shop.PieceAsync(code);
        var item = piece.Items.First(i => i.Number == cure);
        Assert.Equal(PieceState.InWork, piece.State);
        Assert.Equal(
            stopped ? (WorkState.Ready, null, null) : (WorkState.Done, ended, batch.Measured),
            (item.State, item.FinishedAt, item.Measured)
        );

        // Nor does the load run again when that is taken back in its turn.
        await shop.Shop.Get<UndoLast>().RunAsync(shop.Ask(), new UndoWish(null, undo));
        Assert.Equal(batch.State, await StateAsync(shop, load));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Undo_OvenIsTakenByAnotherLoadMeanwhile_IsRefused(bool spoiled)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        var other = await shop.BookAsync(1, own: true, Finish.WhiteGround, "al");
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(other)));
        await shop.WorkToAsync(StepKind.Cure, other);
        var (load, cure) = await CureAsync(shop);
        shop.Wait((await shop.PieceAsync(shop.Code)).NextAttended!.Settings.MinSeconds);
        var command = Guid.CreateVersion7();
        BenchShop.Must(
            spoiled ? await SpoilAsync(shop, shop.Code, command) : await shop.FinishBatchAsync(new FinishBatchWish(load), command)
        );
        BenchShop.Must(await shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), new StartWish(new Target(other, cure), IsHot: true)));
        var before = await shop.FactsAsync();
        Assert.Equal("station-busy", BenchShop.Code0(await shop.UndoAsync(command)));
        Assert.Equal(before, await shop.FactsAsync());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task GoneFromTheOven_LastOne_TheOvenIsFreeForTheNext(bool calledOff)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        var (load, cure) = await CureAsync(shop);
        var gone = await shop.PieceAsync(shop.Code);
        BenchShop.Must(await shop.AsideAsync(new Target(shop.Code), "customer rang"));
        Assert.Equal(BatchState.Running, await StateAsync(shop, load));
        if (calledOff)
            await CallOffAsync(shop, gone.Order);
        else
            BenchShop.Must(
                await shop.Shop.Get<ReturnPieces>().RunAsync(shop.Ask(), new WithReason(new Target(shop.Code), "wants it back"))
            );
        Assert.Equal(BatchState.Stopped, await StateAsync(shop, load));
        var next = await shop.BookAsync(1, own: true, Finish.WhiteGround, "al");
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(next)));
        await shop.WorkToAsync(StepKind.Cure, next);
        BenchShop.Must(await shop.Shop.Get<StartStep>().RunAsync(shop.Ask(), new StartWish(new Target(next, cure), IsHot: true)));
    }

    private static async Task<(string Load, int Step)> CureAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Cure);
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        return (BenchShop.Must(await shop.StartAsync(step)).Batch!, step);
    }

    private static Task<Result<Moved>> SpoilAsync(BenchShop shop, string code, Guid? command = null) =>
        shop
            .Shop.Get<ReportFault>()
            .RunAsync(shop.Ask(command), new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Spoil, "fell down")));

    private static async Task CallOffAsync(BenchShop shop, OrderId id)
    {
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.Id == id);
        var change = new OrderChange(id, order.Version, OrderAct.Cancel, "changed their mind");
        Assert.Equal("ok", BenchShop.Code0(await shop.Shop.Get<ChangeOrder>().RunAsync(Asked.By(owner), change)));
    }

    private static async Task<BatchState> StateAsync(BenchShop shop, string code) => (await BatchAsync(shop, code)).State;

    private static async Task<Batch> BatchAsync(BenchShop shop, string code)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Batches.AsNoTracking().SingleAsync(b => b.Code == code);
    }

    // What was spoiled by an older version still stands as running at its step.
    private static async Task RunsOnAsync(BenchShop shop, PieceId piece, int step)
    {
        await using var context = await shop.Shop.ContextAsync();
        await context
            .WorkItems.Where(i => i.Piece == piece && i.Number == step)
            .ExecuteUpdateAsync(i => i.SetProperty(x => x.State, WorkState.Running));
    }
}
