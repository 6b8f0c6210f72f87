using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.Tracing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Stock;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>When it goes differently: each has a path that keeps the journal true and says what to do with the piece.</summary>
public sealed class BenchTroubleTests
{
    private static readonly TimeDecision GoOn = new(TimeChoice.GoOn, "judged by eye");

    [Fact]
    public async Task Finish_CureTooEarly_IsAskedAndNothingIsSaved()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var load = await CureAsync(shop);
        shop.Wait(60);
        var before = await shop.FactsAsync();
        Assert.Equal("too-early", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load))));
        Assert.Equal(before, await shop.FactsAsync());
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, Decision: GoOn)));
        Assert.All(
            await shop.PiecesAsync(),
            p => Assert.Equal("too-early: judged by eye", p.Items.First(i => i.Kind == StepKind.Cure).Decision)
        );
    }

    [Theory]
    [InlineData(TimeChoice.Hold, PieceState.Held)]
    [InlineData(TimeChoice.Spoil, PieceState.Spoiled)]
    [InlineData(TimeChoice.Rework, PieceState.Reworking)]
    public async Task Finish_ForgottenTimer_DoesWhatWasDecided(TimeChoice choice, PieceState after)
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var load = await CureAsync(shop);
        shop.Wait(4000);
        Assert.Equal("too-late", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load))));
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, Decision: new TimeDecision(choice, "phone rang", 1))));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(after, p.State));
    }

    [Fact]
    public async Task Finish_OvenTooCool_IsAskedEvenInTime()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var load = await CureAsync(shop);
        shop.Wait((await shop.PiecesAsync())[0].NextAttended!.Settings.MinSeconds);
        Assert.Equal("temperature-off", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(load, Celsius: 148))));
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, Celsius: 158)));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal("158 °C", p.Items.First(i => i.Kind == StepKind.Cure).Measured));
    }

    [Fact]
    public async Task Finish_TooEarlyAndTooHot_AsksAboutBothAndKeepsBothInTheHistory()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var load = await CureAsync(shop);
        shop.Wait(28);
        var asked = (await shop.FinishBatchAsync(new FinishBatchWish(load, Celsius: 999))).Refusals;
        Assert.Equal(["too-early", "temperature-off"], asked.Select(r => r.Code));
        var outcome = new MoveOutcomeArgs { Refusals = [.. asked.Select(r => new OutcomeRefusal(r.Code, r.Text, r.Field))] };
        Assert.False(Decisions.IsForEach(outcome));
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, Celsius: 999, Decision: GoOn)));
        Assert.All(
            await shop.PiecesAsync(),
            p => Assert.Equal("too-early, temperature-off: judged by eye", p.Items.First(i => i.Kind == StepKind.Cure).Decision)
        );
        var steps = new Dictionary<int, string> { [7] = "Cure" };
        var said = EventWords.Of(new StepFinished(default, 7, "999 °C", "too-early, temperature-off: judged by eye"), steps);
        Assert.Equal("Cure finished (999 °C) (too early, wrong temperature: judged by eye)", said);
    }

    [Fact]
    public async Task Finish_DecidedLongAfterTheTap_HasEndedWhenItWasTapped()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        shop.Wait(60);
        var tapped = shop.Shop.Clock.GetUtcNow();
        shop.Wait(2400);
        var wish = new FinishBatchWish(load, End: new Ended(AtSignal: false, 0, tapped), Decision: GoOn);
        BenchShop.Must(await shop.FinishBatchAsync(wish));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(tapped, p.Items.First(i => i.Kind == StepKind.Cure).FinishedAt));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Page_LoadedAgain_AsksWhatWasLeftUndecidedWhileItStillRuns(bool runs)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        if (!runs)
            BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, Decision: GoOn)));
        await using var page = TestPage.Plain();
        var kept = new MoveOutcomeArgs { Refusals = [new OutcomeRefusal("too-early", "Early.")] };
        page.JSInterop.Setup<MoveOutcomeArgs?>("benchAsked", load).SetResult(kept);
        MoveOutcomeArgs? asked = null;
        var found = (await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value;
        page.Render<KeptQuestion>(p => p.Add(k => k.Code, load).Add(k => k.Found, found).Add(k => k.OnFound, o => asked = o));
        Assert.Same(runs ? kept : null, asked);
    }

    [Fact]
    public async Task Page_OfABatchThatIsOver_LeadsToWhatComesNext()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var load = await CureAsync(shop);
        Assert.Empty((await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!.After);
        shop.Wait((await shop.PiecesAsync())[0].NextAttended!.Settings.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
        var next = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(load)).Value.Batch!.After);
        Assert.Equal(("Tape the print", 2, shop.Code, "Cool"), (next.Word, next.Count, Assert.Single(next.Codes), next.Timer!.Word));
    }

    [Fact]
    public void Decide_TwoThingsOfOnePieceDecidedDifferently_TheGraverCounts()
    {
        var outcome = new MoveOutcomeArgs
        {
            Refusals = [new("too-early", "AAA, BBB: early.", "AAA BBB"), new("temperature-off", "BBB: hot.", "BBB")],
        };
        var again = Decisions.Again(outcome, [GoOn, new TimeDecision(TimeChoice.Spoil, "")], "burnt");
        Assert.Equal(
            [("AAA", TimeChoice.GoOn), ("BBB", TimeChoice.Spoil)],
            again.Each!.Select(e => (e.Key, e.Value.Choice)).OrderBy(e => e.Key)
        );
    }

    [Fact]
    public async Task Stop_PowerCut_PiecesHaveTheCureToDoAgain()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        var load = await CureAsync(shop);
        shop.Wait(180);
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(command), new StopBatchWish(load, "Power cut")));
        Assert.All(
            await shop.PiecesAsync(),
            p => Assert.Equal((StepKind.Cure, WorkState.Ready, 0), (p.NextAttended!.Kind, p.NextAttended.State, p.Reworks))
        );
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(WorkState.Running, p.NextAttended!.State));
    }

    [Fact]
    public async Task Stop_CanEmptyMidRound_TheRestIsSprayedFromTheNextCan()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Spray);
        var spray = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var round = BenchShop.Must(await shop.StartAsync(spray)).Batch!;
        BenchShop.Must(await shop.FinishAsync(spray, count: 2));
        BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(round, "Can empty", CanEmpty: true)));
        var second = BenchShop.Must(await shop.StartAsync(spray, count: 2)).Batch!;
        await using var context = await shop.Shop.ContextAsync();
        var cans = await context.Batches.Where(b => b.Code == round || b.Code == second).Select(b => b.Can).ToListAsync();
        Assert.Equal(2, cans.Distinct().Count());
        Assert.Equal(0, await context.Cans.Where(c => c.Id == cans[0]).Select(c => c.LeftMl).SingleAsync());
        Assert.Contains(await context.StockMoves.ToListAsync(), m => m.Reason == StockReason.Correction);
    }

    [Fact]
    public async Task Stop_CanEmptyAfterSomeWereSprayed_TheseGoOnAndTheRestIsSprayedFromTheNextCan()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Spray);
        var spray = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var round = BenchShop.Must(await shop.StartAsync(spray)).Batch!;
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        var command = Guid.CreateVersion7();
        var tap = new Tap
        {
            Move = "stopBatch",
            Code = round,
            Reason = "Can empty",
            CanEmpty = true,
            Codes = [.. codes.Take(3)],
        };
        BenchShop.Must(await shop.Shop.Get<BenchMoves>().RunAsync(shop.Ask(command), tap, default));
        WorkState[] states = [WorkState.Done, WorkState.Done, WorkState.Done, WorkState.Ready];
        Assert.Equal(states, (await shop.PiecesAsync()).Select(p => p.Items.Single(i => i.Number == spray).State));
        await using (var context = await shop.Shop.ContextAsync())
        {
            var can = (await context.Batches.SingleAsync(b => b.Code == round)).Can;
            Assert.Equal(0, await context.Cans.Where(c => c.Id == can).Select(c => c.LeftMl).SingleAsync());
            Assert.Equal(3, await context.StockMoves.CountAsync(m => m.Reason == StockReason.Use && m.Piece != null && m.Batch != null));
        }
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(WorkState.Running, p.NextAttended!.State));
    }

    [Fact]
    public async Task StopPanel_CanIsEmpty_AsksHowManyOfEachTrayWereSprayed()
    {
        await using var page = TestPage.Plain();
        var sheet = new BatchSheet
        {
            Code = "R-1",
            Kind = BatchKind.SprayRound,
            State = BatchState.Running,
            Members = [.. new[] { "AAA", "BBB", "CCC" }.Select(c => new MemberLine(c, "TRAY", true, false, 0, c != "AAA"))],
        };
        var panel = page.Render<StopPanel>(p => p.Add(s => s.Sheet, sheet).Add(s => s.OnBack, () => { }));
        await panel.FindAll("button").Single(b => b.TextContent == "Can is empty").ClickAsync();
        Assert.Equal("0 of 2", panel.Find("output").TextContent);
        await panel.Find("button[aria-label='One more']").ClickAsync();
        var tap = System.Text.Json.JsonSerializer.Deserialize<Tap>(
            Assert.Single(panel.FindAll("[data-move]")).GetAttribute("data-move")!,
            ShopFloor.Data.JsonForms.Default
        )!;
        Assert.Equal(["BBB"], tap.Codes!);
        Assert.True(tap.CanEmpty);
    }

    [Fact]
    public async Task Load_NothingScannedIn_AsksBeforeItBegins()
    {
        await using var page = TestPage.Plain();
        var sheet = new BatchSheet
        {
            Code = "L-1",
            Kind = BatchKind.OvenLoad,
            State = BatchState.Building,
            Members = [new MemberLine("AAA", null, false, false, 1)],
        };
        var actions = page.Render<BatchActions>(p => p.Add(s => s.Sheet, sheet).Add(s => s.OnStop, () => { }));
        Assert.DoesNotContain("startBatch", actions.Markup, StringComparison.Ordinal);
        await actions.FindAll("button").First().ClickAsync();
        Assert.Contains("Nothing was scanned in", actions.Markup, StringComparison.Ordinal);
        Assert.Contains("startBatch", actions.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Start_WipedTooLongAgo_IsAskedWithTheWay()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Spray);
        var spray = (await shop.PiecesAsync())[0].NextAttended!.Number;
        shop.Wait(3600);
        Assert.Equal("too-late", BenchShop.Code0(await shop.StartAsync(spray)));
        BenchShop.Must(await shop.StartAsync(spray, decision: new TimeDecision(TimeChoice.Rework, "wiped too long ago", 2)));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal((PieceState.Reworking, 2), (p.State, p.NextAttended!.Number)));
    }

    [Fact]
    public async Task Press_TappedLateButOpenedAtTheSignal_IsInItsWindow()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Press);
        var press = (await shop.PiecesAsync())[0].NextAttended!;
        var session = BenchShop.Must(await shop.StartAsync(press.Number)).Batch!;
        shop.Wait(press.Settings.MaxSeconds!.Value + 25);
        Assert.Equal("too-late", BenchShop.Code0(await shop.FinishBatchAsync(new FinishBatchWish(session))));
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(session, End: new Ended(AtSignal: true))));
        var item = (await shop.PiecesAsync())[0].Items.First(i => i.Kind == StepKind.Press);
        Assert.Equal(press.Settings.MinSeconds, (item.FinishedAt - item.StartedAt)!.Value.TotalSeconds);
    }

    [Fact]
    public async Task Fault_WrongPictureBeforeThePress_TapesAgain()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Press);
        var tape = (await shop.PiecesAsync())[0].Items.First(i => i.Kind == StepKind.Tape).Number;
        var report = new FaultReport(new Target(shop.Code), "wrong-picture", "", new TimeDecision(TimeChoice.Rework, "", tape));
        BenchShop.Must(await shop.Shop.Get<ReportFault>().RunAsync(shop.Ask(), report));
        var piece = (await shop.PiecesAsync())[0];
        Assert.Equal((StepKind.Tape, false, "Wrong picture"), (piece.NextAttended!.Kind, piece.IsBound, piece.Reason));
    }

    [Fact]
    public async Task HoldLot_OpenPieces_ArePutAsideAndTheLotIsBarred()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Cure);
        await using var context = await shop.Shop.ContextAsync();
        var id = (await shop.PiecesAsync())[0].Items.First(i => i.Can is not null).Can;
        var can = await context.Cans.FirstAsync(c => c.Id == id);
        Assert.Equal("reason-missing", BenchShop.Code0(await shop.Shop.Get<HoldLot>().RunAsync(shop.Ask(), new LotWish(can.Code, ""))));
        BenchShop.Must(await shop.Shop.Get<HoldLot>().RunAsync(shop.Ask(), new LotWish(can.Code, "peels")));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(PieceState.Held, p.State));
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        Assert.NotEqual("ok", BenchShop.Code0(await shop.StartAsync(step)));
    }

    [Fact]
    public async Task Undo_FinishedRound_GivesBackPiecesBatchAndMillilitres()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Spray);
        var spray = (await shop.PiecesAsync())[0].NextAttended!.Number;
        var round = BenchShop.Must(await shop.StartAsync(spray)).Batch!;
        var before = await shop.FactsAsync();
        await using var context = await shop.Shop.ContextAsync();
        var left = await context.Cans.AsNoTracking().OrderBy(c => c.Code).Select(c => c.LeftMl).ToListAsync();
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(round), command));
        Assert.NotEqual(left, await context.Cans.AsNoTracking().OrderBy(c => c.Code).Select(c => c.LeftMl).ToListAsync());
        BenchShop.Must(await shop.UndoAsync(command));
        Assert.Equal(before, await shop.FactsAsync());
        Assert.Equal(BatchState.Running, (await context.Batches.SingleAsync(b => b.Code == round)).State);
        Assert.Equal(left, await context.Cans.AsNoTracking().OrderBy(c => c.Code).Select(c => c.LeftMl).ToListAsync());
        Assert.Equal("undone-already", BenchShop.Code0(await shop.UndoAsync(command)));
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(round)));
    }

    [Theory]
    [InlineData(7)]
    [InlineData(0)]
    public async Task Undo_FinishedRoundOfACanThatWasCountedSince_LeavesWhatWasFound(int more)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var (command, can) = await SprayAsync(shop);
        var owner = await shop.Shop.WorkerAsync(WorkerRole.Owner);
        var found = new Counted(can.Id, null, can.LeftMl, can.LeftMl + more);
        Assert.True((await shop.Shop.Get<TakeStock>().RunAsync(Asked.By(owner), new StockCount("on the scale", [found]))).IsOk);
        BenchShop.Must(await shop.UndoAsync(command));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(found.Found, (await context.Cans.SingleAsync(c => c.Id == can.Id)).LeftMl);
        Assert.DoesNotContain(await context.StockMoves.ToListAsync(), m => m.Can == can.Id && m.Reason == StockReason.UseUndone);
    }

    [Fact]
    public async Task Undo_FinishedRoundOfACanWithRoomForLess_NotesWhatReallyWentBack()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        var (command, can) = await SprayAsync(shop);
        await using var context = await shop.Shop.ContextAsync();
        await context.Cans.Where(c => c.Id == can.Id).ExecuteUpdateAsync(c => c.SetProperty(x => x.LeftMl, x => x.FullMl - 1));
        BenchShop.Must(await shop.UndoAsync(command));
        var undone = (await context.StockMoves.ToListAsync()).Where(m => m.Can == can.Id && m.Reason == StockReason.UseUndone);
        Assert.Equal((can.FullMl, 1m), ((await context.Cans.SingleAsync(c => c.Id == can.Id)).LeftMl, undone.Sum(m => m.Amount)));
    }

    /// <summary>Sprays a round; the command that finished it, and the can as it is then.</summary>
    private static async Task<(Guid Command, Can Can)> SprayAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Spray);
        var round = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        var command = Guid.CreateVersion7();
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(round), command));
        shop.Wait(60);
        await using var context = await shop.Shop.ContextAsync();
        var id = (await context.Batches.SingleAsync(b => b.Code == round)).Can;
        return (command, await context.Cans.AsNoTracking().SingleAsync(c => c.Id == id));
    }

    [Fact]
    public async Task Undo_PieceHasMovedOn_IsRefusedAndNothingIsTakenBack()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.ReceiveAsync();
        var first = Guid.CreateVersion7();
        BenchShop.Must(await shop.FinishAsync(1, command: first));
        BenchShop.Must(await shop.StartAsync(2, count: 1));
        var before = await shop.FactsAsync();
        Assert.Equal("moved-on", BenchShop.Code0(await shop.UndoAsync(first)));
        Assert.Equal(before, await shop.FactsAsync());
    }

    [Fact]
    public async Task AnyMove_ByACounterSession_IsRefused()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        BenchShop.Must(await shop.ReceiveAsync());
        var counter = await shop.Shop.WorkerAsync(WorkerRole.Counter);
        var answer = await shop.Shop.Get<StartStep>().RunAsync(Asked.By(counter), new StartWish(new Target(shop.Code, 1)));
        Assert.Equal("no-right", BenchShop.Code0(answer));
    }

    private static async Task<string> CureAsync(BenchShop shop)
    {
        await shop.WorkToAsync(StepKind.Cure);
        return BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
    }
}
