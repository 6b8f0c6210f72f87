using CsCheck;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Several devices at once: one truth, and a clear word to the second person.</summary>
public sealed class TwoDevicesTests
{
    [Fact]
    public async Task Finish_SameTapSentTwice_IsDoneOnceWithTheSameAnswer()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.ReceiveAsync();
        var command = Guid.CreateVersion7();
        var first = BenchShop.Must(await shop.FinishAsync(1, command: command));
        var second = BenchShop.Must(await shop.FinishAsync(1, command: command));
        Assert.Equal(first.Codes, second.Codes);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(3, (await context.Journal.ToListAsync()).Count(j => j.Read() is StepFinished));
    }

    [Fact]
    public async Task Finish_TwoPeopleTheSameLoad_OneFinishesTheOtherIsTold()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var load = BenchShop.Must(await shop.StartAsync(cure.Number)).Batch!;
        shop.Wait(cure.Settings.MinSeconds);
        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => shop.FinishBatchAsync(new FinishBatchWish(load))));
        Assert.Single(answers, a => a.IsOk);
        Assert.All(answers.Where(a => !a.IsOk), a => Assert.Equal("batch-not-running", a.Refusals[0].Code));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(4, (await context.Journal.ToListAsync()).Count(j => j.Read() is StepFinished f && f.Step == cure.Number));
    }

    [Fact]
    public async Task Finish_SecondPersonOnTheSamePiece_IsToldWhoWasFirst()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.ReceiveAsync();
        BenchShop.Must(await shop.FinishAsync(1));
        shop.Wait(130);
        var second = await shop.FinishAsync(1);
        Assert.Equal("already-done", BenchShop.Code0(second));
        Assert.Contains("2 min ago by bench", second.Refusals[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task FinishAndStart_SecondPersonAtATray_IsToldWhoWasFaster()
    {
        await using var shop = await BenchShop.OpenAsync(4);
        await shop.ReceiveAsync();
        BenchShop.Must(await shop.FinishAsync(1, count: 2));
        shop.Wait(130);
        var some = await shop.FinishAsync(1, count: 4);
        Assert.Equal(["count", "already-done"], some.Refusals.Select(r => r.Code));
        Assert.EndsWith("Clean was finished 2 min ago by bench.", some.Refusals[1].Text, StringComparison.Ordinal);
        BenchShop.Must(await shop.StartAsync(1));
        var begun = await shop.StartAsync(1, count: 2);
        Assert.Equal("already-done", BenchShop.Code0(begun));
        Assert.Contains("Clean was started just now by bench", begun.Refusals[0].Text, StringComparison.Ordinal);
        BenchShop.Must(await shop.FinishAsync(1));
        var done = await shop.FinishAsync(1, count: 2);
        Assert.Equal("already-done", BenchShop.Code0(done));
        Assert.Contains("Clean was finished just now by bench. Nothing more to do here.", done.Refusals[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task BeginAndEndABatch_SecondPerson_IsToldWhoWasFirstAndWhen()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var load = BenchShop.Must(await shop.StartAsync(cure.Number)).Batch!;
        shop.Wait(130);
        var begun = await shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), new StartBatchWish(load, IsHot: true));
        Assert.Equal($"{load} was started 2 min ago by bench. Nothing more to do here.", begun.Refusals[0].Text);
        shop.Wait(cure.Settings.MinSeconds - 130);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
        shop.Wait(10);
        var ended = await shop.FinishBatchAsync(new FinishBatchWish(load));
        Assert.Equal($"{load} was finished just now by bench. Nothing more to do here.", ended.Refusals[0].Text);
    }

    [Fact]
    public async Task Start_TwoPeopleTheSameTray_NoPieceIsInTwoLoads()
    {
        await using var shop = await BenchShop.OpenAsync(6);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!.Number;
        await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => shop.StartAsync(cure, count: 4)));
        await using var context = await shop.Shop.ContextAsync();
        var members = (await context.Batches.Where(b => b.Kind == BatchKind.OvenLoad).ToListAsync())
            .SelectMany(b => b.Places)
            .Select(p => p.Piece)
            .ToList();
        Assert.Equal(members.Count, members.Distinct().Count());
        Assert.Equal(members.Count, (await shop.PiecesAsync()).Count(p => p.NextAttended!.State == WorkState.Running));
    }

    [Fact]
    public async Task Moves_AnyByTwoDevicesWithUndo_JournalReplaysAndStockAddsUp() =>
        await Gen.Select(Gen.Int[0, 9], Gen.Int[0, 3], Gen.Int[0, 1500])
            .Array[5, 25]
            .SampleAsync(
                async moves =>
                {
                    await using var shop = await BenchShop.OpenAsync(4);
                    await shop.ReceiveAsync();
                    Guid? last = null;
                    foreach (var move in moves)
                        last = await MoveAsync(shop, move, last);
                    await CheckAsync(shop);
                },
                iter: 12,
                threads: 1
            );

    private static async Task<Guid?> MoveAsync(BenchShop shop, (int Verb, int Count, int Wait) move, Guid? last)
    {
        shop.Wait(move.Wait);
        var up = (await shop.PiecesAsync()).FirstOrDefault(p => p.NextAttended is not null && p.State != PieceState.Held);
        var (step, count, command) = (up?.NextAttended?.Number ?? 1, move.Count == 0 ? (int?)null : move.Count, Guid.CreateVersion7());
        var goOn = new TimeDecision(TimeChoice.GoOn, "judged by eye");
        var code = (await shop.PiecesAsync())[move.Count].Code;
        var pair = move.Verb switch
        {
            0 or 1 or 2 => Task.WhenAll(shop.StartAsync(step, count, goOn, command), shop.StartAsync(step, count, goOn, command)),
            3 or 4 or 5 => Task.WhenAll(shop.FinishAsync(step, count, goOn, command), shop.FinishAsync(step, count, goOn, command)),
            6 => Task.WhenAll(shop.AsideAsync(new Target(code), "look at it", command)),
            7 => Task.WhenAll(shop.Shop.Get<ReleasePieces>().RunAsync(shop.Ask(command), new WithReason(new Target(code), "fine"))),
            8 => Task.WhenAll(
                shop.Shop.Get<ReportFault>()
                    .RunAsync(shop.Ask(command), new FaultReport(new Target(code), "run", "", new TimeDecision(TimeChoice.Rework, "", 1)))
            ),
            _ => Task.WhenAll(shop.UndoAsync(last ?? command)),
        };
        var answers = await pair;
        return answers[0].IsOk && move.Verb != 9 ? command : last;
    }

    // Law: whatever hands did, no two rows of a list of Wall and Bench have one key.
    private static async Task KeysAsync(ShopContext context, BenchShop shop)
    {
        var work = await OpenWork.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), null, default);
        var (home, wall) = (BenchHome.Project(work), WallSheet.Of(new WorkNow(work, null, new Dictionary<CanId, string>()), work.Now, []));
        var found = await shop.Shop.Get<FindOrder>().ReadAsync("1");
        IEnumerable<IEnumerable<object>> lists =
        [
            .. new[] { home.Running, home.Building, home.Ready, home.Aside, home.Coming, found.Orders[0].Pieces }.Select(l =>
                l.Select(w => (object)w.Key)
            ),
            wall.Timers.Select(t => t.Id),
            wall.Calls.Select(c => c.Key),
        ];
        Assert.All(lists, keys => Assert.Equal(keys.Distinct().Count(), keys.Count()));
    }

    private static async Task CheckAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var journal = await context.Journal.OrderBy(j => j.Sequence).ToListAsync();
        await KeysAsync(context, shop);
        foreach (var piece in await shop.PiecesAsync())
        {
            var again = new Piece(piece.Id);
            again.Replay([.. journal.Where(j => j.Piece == piece.Id).Select(j => (j.Id, j.Read()))]);
            Assert.Equal(BenchShop.Facts(piece), BenchShop.Facts(again));
        }
        var moves = await context.StockMoves.ToListAsync();
        foreach (var can in await context.Cans.ToListAsync())
            Assert.Equal(moves.Where(m => m.Can == can.Id).Sum(m => m.Amount), can.LeftMl);
        foreach (var batch in await context.Batches.Where(b => b.State == BatchState.Running).ToListAsync())
            Assert.Contains(await shop.PiecesAsync(), p => p.Items.Any(i => i.Batch == batch.Id && i.State == WorkState.Running));
    }
}
