using System.Text.Json;
using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Each member of a batch that is out of its time is named, and is decided of on its own.</summary>
public sealed class MemberDecisionTests
{
    private static readonly TimeDecision Out = new(TimeChoice.LeaveOut, "wiped too early");
    private static readonly TimeDecision GoOn = new(TimeChoice.GoOn, "judged by eye");

    [Fact]
    public async Task Start_TwoOfThreeTooLate_BothAreNamedWithTheirOwnOverrun()
    {
        await using var shop = await BenchShop.OpenAsync(3, own: true, finish: Finish.ShowThrough);
        var (round, codes) = await WipedAsync(shop, 60, 700, 0);
        var asked = await StartAsync(shop, new StartBatchWish(round));
        Assert.Equal([codes[0], codes[1]], asked.Refusals.Select(r => r.Field));
        Assert.All(asked.Refusals, r => Assert.StartsWith($"{r.Field}: The promoter was ", r.Text, StringComparison.Ordinal));
        Assert.NotEqual(asked.Refusals[0].Text[8..], asked.Refusals[1].Text[8..]);
    }

    [Fact]
    public async Task Start_OneLeftOutAndOneGoesOn_EachAsDecided()
    {
        await using var shop = await BenchShop.OpenAsync(3, own: true, finish: Finish.ShowThrough);
        var (round, codes) = await WipedAsync(shop, 60, 700, 0);
        var each = new Dictionary<string, TimeDecision> { [codes[0]] = Out, [codes[1]] = GoOn };
        BenchShop.Must(await StartAsync(shop, new StartBatchWish(round, Each: each)));

        var pieces = (await shop.PiecesAsync()).ToDictionary(p => p.Code);
        Assert.Equal(WorkState.Ready, pieces[codes[0]].NextAttended!.State);
        Assert.Equal("too-late: judged by eye", pieces[codes[1]].NextAttended!.Decision);
        Assert.Equal((WorkState.Running, null), (pieces[codes[2]].NextAttended!.State, pieces[codes[2]].NextAttended!.Decision));
        await using var context = await shop.Shop.ContextAsync();
        var inside = (await context.Batches.SingleAsync(b => b.Code == round)).Places.Select(p => p.Piece).ToHashSet();
        Assert.True(inside.SetEquals([pieces[codes[1]].Id, pieces[codes[2]].Id]));
    }

    [Fact]
    public async Task Start_AllLeftOut_TheRoundIsGivenUp()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, finish: Finish.ShowThrough);
        var (round, codes) = await WipedAsync(shop, 700);
        Assert.Contains(
            "given up",
            BenchShop.Must(await StartAsync(shop, new StartBatchWish(round, Decision: Out))).Text,
            StringComparison.Ordinal
        );
        Assert.Equal(WorkState.Ready, (await shop.PieceAsync(codes[0])).NextAttended!.State);
    }

    [Fact]
    public async Task Start_TrayTooLate_IsAskedOnceForAllOfItsPieces()
    {
        await using var shop = await BenchShop.OpenAsync(12, finish: Finish.ShowThrough);
        await shop.WorkToAsync(StepKind.Spray);
        shop.Wait(1000);
        var asked = Assert.Single((await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Refusals);
        Assert.Equal(12, asked.Field!.Split(' ').Length);
        Assert.StartsWith($"12 × {shop.Code}: ", asked.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Finish_OneMemberTooEarly_OnlyItIsPutAside()
    {
        await using var shop = await BenchShop.OpenAsync(2, own: true, finish: Finish.ShowThrough);
        var (round, codes) = await WipedAsync(shop, 0, 0);
        BenchShop.Must(await StartAsync(shop, new StartBatchWish(round)));
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(round)));
        shop.Wait((await shop.PieceAsync(codes[0])).Items.First(i => i.Kind.IsRest()).Settings.MinSeconds);
        var cure = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish(codes))).Batch!;
        BenchShop.Must(await StartAsync(shop, new StartBatchWish(cure, IsHot: true)));
        shop.Wait(60);
        var each = new Dictionary<string, TimeDecision> { [codes[0]] = new(TimeChoice.Hold, "fell over") };
        var still = Assert.Single((await shop.FinishBatchAsync(new FinishBatchWish(cure, Each: each))).Refusals);
        Assert.Equal(("too-early", codes[1]), (still.Code, still.Field));
        each[codes[1]] = GoOn;
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(cure, Each: each)));
        Assert.Equal(
            (PieceState.Held, PieceState.InWork),
            ((await shop.PieceAsync(codes[0])).State, (await shop.PieceAsync(codes[1])).State)
        );
    }

    [Theory]
    [InlineData(148, true)]
    [InlineData(172, false)]
    public async Task Panel_OvenColderThanWanted_OffersToLeaveItInLonger(int read, bool longer)
    {
        await using var page = TestPage.Plain();
        var outcome = new MoveOutcomeArgs
        {
            Tap = JsonSerializer.Serialize(
                new Tap
                {
                    Move = "finishBatch",
                    Code = "L-1",
                    Celsius = read,
                },
                JsonForms.Default
            ),
            Refusals = [new("temperature-off", "AAA: wrong.", "AAA")],
        };
        var panel = page.Render<DecidePanel>(p => p.Add(d => d.Outcome, outcome).Add(d => d.Wanted, 160).Add(d => d.OnWait, () => { }));
        Assert.Equal(longer, panel.FindAll("button").Any(b => b.TextContent == "Oven too cold"));
        Assert.Equal(longer, panel.FindAll("button").Any(b => b.TextContent == "Close the door again, leave it in longer"));
    }

    [Fact]
    public async Task Finish_LoadWithoutAReading_SaysSoOnItsPageAndInThePiecesHistory()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var load = BenchShop.Must(await shop.StartAsync(cure.Number)).Batch!;
        shop.Wait(cure.Settings.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load)));
        var page = (await shop.Shop.Get<ShopFloor.Web.Bench.Reading.FindByCode>().ReadAsync(load)).Value.Batch!;
        Assert.Contains(page.Settings, s => s is { Label: "Read off", Value: "taken out without a reading" });
        await using var context = await shop.Shop.ContextAsync();
        var finished = context.Journal.AsEnumerable().Select(j => j.Read()).OfType<StepFinished>().Single(f => f.Step == cure.Number);
        Assert.Equal("taken out without a reading", finished.Measured);
    }

    [Fact]
    public async Task Panel_TwoQuestions_SendsADecisionForEachOfTheirPieces()
    {
        await using var page = TestPage.Plain();
        var outcome = new MoveOutcomeArgs
        {
            Tap = JsonSerializer.Serialize(new Tap { Move = "startBatch", Code = "R-1" }, JsonForms.Default),
            Refusals = [new("too-late", "AAA, BBB: late.", "AAA BBB"), new("too-early", "CCC: early.", "CCC"), new("oven-hot", "Hot.")],
        };
        var panel = page.Render<DecidePanel>(p => p.Add(d => d.Outcome, outcome).Add(d => d.OnWait, () => { }));
        Assert.Equal("2", panel.Find("textarea#decide-reason").GetAttribute("rows"));
        AngleSharp.Dom.IElement Go() => panel.Find("[data-move]");
        await panel
            .FindAll("[aria-labelledby=decide-0] button")
            .Single(b => b.TextContent.StartsWith("Leave", StringComparison.Ordinal))
            .ClickAsync();
        await panel.FindAll("[aria-labelledby=decide-1] button").First().ClickAsync();
        await panel.FindAll("button").Single(b => b.TextContent == "Busy elsewhere").ClickAsync();
        Assert.True(Go().HasAttribute("disabled"));
        await Assert.Single(panel.FindAll("[aria-labelledby=decide-2] button")).ClickAsync();
        Assert.False(Go().HasAttribute("disabled"));

        var sent = JsonSerializer.Deserialize<Tap>(Go().GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(new TimeDecision(TimeChoice.GoOn, "Busy elsewhere"), sent.Decision);
        Assert.Equal(
            [("AAA", TimeChoice.LeaveOut), ("BBB", TimeChoice.LeaveOut), ("CCC", TimeChoice.GoOn)],
            sent.Each!.Select(e => (e.Key, e.Value.Choice))
        );
    }

    // Wiped one after the other, so long after each before the next thing is done; put together as a round.
    private static async Task<(string Round, IReadOnlyList<string> Codes)> WipedAsync(BenchShop shop, params double[] waits)
    {
        string[] codes = [.. (await shop.PiecesAsync()).Select(p => p.Code)];
        foreach (var (code, wait) in codes.Zip(waits))
        {
            BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(code)));
            foreach (var step in new[] { 1, 2 })
                BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), new FinishWish(new Target(code, step))));
            shop.Wait(wait);
        }
        var built = BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish(codes)));
        return (built.Batch!, codes);
    }

    private static Task<Result<Moved>> StartAsync(BenchShop shop, StartBatchWish wish) =>
        shop.Shop.Get<StartBatch>().RunAsync(shop.Ask(), wish);
}
