using System.Text;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Tests.Bench;
using Piece = ShopFloor.Domain.Pieces.Piece;
using StepKind = ShopFloor.Domain.Recipes.StepKind;

namespace ShopFloor.Web.Tests.Plans;

/// <summary>Whatever is done or decided at the Bench, the shop is a day that can be planned by the rules.</summary>
public sealed class EveryMoveIsPlannedTests
{
    private static readonly TimeDecision GoOn = new(TimeChoice.GoOn, "judged by eye");

    /// <summary>How a piece goes its way: how long before each start and each end, and what comes between.</summary>
    public enum Way
    {
        InTime,
        TooEarly,
        TooLate,
        StoppedEarly,
        PutAside,
        Again,
    }

    [Theory]
    [InlineData(Way.InTime)]
    [InlineData(Way.TooEarly)]
    [InlineData(Way.TooLate)]
    [InlineData(Way.StoppedEarly)]
    [InlineData(Way.PutAside)]
    [InlineData(Way.Again)]
    public async Task Piece_OnEachWayThroughItsSteps_IsPlannedAfterEachMove(Way way)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.VentAsync();
        BenchShop.Must(await shop.ReceiveAsync());
        var other = await shop.BookAsync(1, true, Finish.ShowThrough, "al");
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(other)));
        await WalkAsync(shop, shop.Code, way);
    }

    [Theory]
    [InlineData("slate", false)]
    [InlineData("slate", true)]
    public async Task Piece_ThatGoesOnWithoutItsTest_IsPlannedAfterEachMoveOfBoth(string material, bool testGoesFirst)
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true, material: material);
        await shop.VentAsync();
        foreach (var piece in await shop.PiecesAsync())
            BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(piece.Code)));
        var test = BenchShop.Must(await shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(test)));
        await PlannedAsync(shop, "the test piece is here");
        if (testGoesFirst)
            BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(test, 1))));
        await WalkAsync(shop, shop.Code, Way.TooEarly);
        await WalkAsync(shop, test, Way.TooEarly);
    }

    private static async Task WalkAsync(BenchShop shop, string code, Way way)
    {
        while (await shop.PieceAsync(code) is { IsOver: false, NextAttended: { } next } piece)
        {
            Before(shop, piece, next, way);
            await PlannedAsync(shop, $"before {next.Number} {next.Kind}");
            if (next.Kind == StepKind.Inspect)
                await InspectAsync(shop, piece);
            else
                await StepAsync(shop, piece, next, way);
            await PlannedAsync(shop, $"after {next.Number} {next.Kind}");
        }
    }

    private static async Task StepAsync(BenchShop shop, Piece piece, WorkItem next, Way way)
    {
        var what = $"{next.Number} {next.Kind}";
        var batch = await StartAsync(shop, piece, next);
        await PlannedAsync(shop, $"just begun {what}");
        shop.Wait(20);
        await PlannedAsync(shop, $"in {what}");
        if (way == Way.StoppedEarly && batch is { } broken)
        {
            BenchShop.Must(await shop.Shop.Get<StopBatch>().RunAsync(shop.Ask(), new StopBatchWish(broken, "Power cut")));
            shop.Wait(40);
            await PlannedAsync(shop, $"stopped {what}");
            batch = await StartAsync(shop, piece, next);
        }
        if (way == Way.PutAside && batch is null)
            await AsideAsync(shop, piece, what);
        During(shop, next, way);
        await PlannedAsync(shop, $"before the end of {what}");
        if (way == Way.Again && next.Kind == StepKind.Cure && piece.Reworks == 0)
            await EndAsync(shop, piece, next, batch, new TimeDecision(TimeChoice.Rework, "too wet", next.Number));
        else
            await EndAsync(shop, piece, next, batch, GoOn);
        shop.Wait(10);
    }

    private static async Task AsideAsync(BenchShop shop, Piece piece, string what)
    {
        BenchShop.Must(await shop.AsideAsync(new Target(piece.Code), "look at it"));
        shop.Wait(60);
        await PlannedAsync(shop, $"aside at {what}");
        BenchShop.Must(await shop.Shop.Get<ReleasePieces>().RunAsync(shop.Ask(), new WithReason(new Target(piece.Code), "looked at")));
        await PlannedAsync(shop, $"taken up at {what}");
    }

    private static async Task<string?> StartAsync(BenchShop shop, Piece piece, WorkItem next) =>
        BenchShop
            .Must(
                await shop
                    .Shop.Get<StartStep>()
                    .RunAsync(shop.Ask(), new StartWish(new Target(piece.Code, next.Number), Decision: GoOn, IsHot: true))
            )
            .Batch;

    private static async Task EndAsync(BenchShop shop, Piece piece, WorkItem next, string? batch, TimeDecision decision) =>
        BenchShop.Must(
            batch is { } code
                ? await shop.FinishBatchAsync(new FinishBatchWish(code, Decision: decision))
                : await shop
                    .Shop.Get<FinishStep>()
                    .RunAsync(shop.Ask(), new FinishWish(new Target(piece.Code, next.Number), Decision: decision))
        );

    private static async Task InspectAsync(BenchShop shop, Piece piece)
    {
        if (piece.IsTest)
            shop.Wait(40_000);
        BenchShop.Must(
            piece.IsTest
                ? await TestPieceTests.JudgeAsync(shop, piece.Code, TestOutcome.Good, "")
                : await shop
                    .Shop.Get<InspectPieces>()
                    .RunAsync(shop.Ask(), new Inspection(new Target(piece.Code), new Findings(), OutOfTime: "felt with care"))
        );
    }

    private static void Before(BenchShop shop, Piece piece, WorkItem next, Way way)
    {
        var before = piece.Items.FirstOrDefault(i => i.Number == next.Number - 1);
        var (least, most) = before is { Kind: StepKind.Rest } rest
            ? (rest.Settings.MinSeconds, rest.Settings.MaxSeconds)
            : (0, before?.Settings.MaxWaitSeconds);
        shop.Wait(Seconds(least, most, way));
    }

    private static void During(BenchShop shop, WorkItem next, Way way) =>
        shop.Wait(next.Kind.HasWindow() ? Seconds(next.Settings.MinSeconds, next.Settings.MaxSeconds, way) : next.Settings.LengthSeconds);

    private static double Seconds(int least, int? most, Way way) =>
        way switch
        {
            Way.TooEarly => Math.Min(least / 4, 45),
            Way.TooLate => (most ?? least) + 400,
            _ => least + 5,
        };

    private static async Task PlannedAsync(BenchShop shop, string when)
    {
        await using var context = await shop.Shop.ContextAsync();
        var snapshot = await ShopSnapshot.ReadAsync(context, shop.Shop.Clock.GetUtcNow(), CancellationToken.None);
        var day = DayFromShop.Make(snapshot);
        var bytes = DayWriter.Write(day);
        var plan = DayPlanner.First(day, Fingerprint.Sha256(bytes));
        // Only a rest that cannot be kept to leaves a piece out.
        var resting = day.Running.Tasks.Where(t => t.Kind == TaskKinds.Rest).Select(t => t.Piece).ToHashSet();
        Assert.True(plan.LeftOut.All(l => resting.Contains(l.Piece)), $"{when}: {string.Join("; ", plan.LeftOut)}");
        var input = new PlanInput(
            snapshot.Now,
            snapshot.Journal,
            Encoding.UTF8.GetString(bytes),
            Encoding.UTF8.GetString(PlanWriter.Write(plan)),
            "test"
        );
        var done = await shop.Shop.Get<PublishPlan>().RunAsync(Asked.BySystem(), input);
        Assert.True(done.IsOk, $"{when}: {string.Join("; ", done.Refusals.Select(r => r.Text))}");
    }
}
