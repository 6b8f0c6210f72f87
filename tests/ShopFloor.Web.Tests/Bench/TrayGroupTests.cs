using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>A tray whose pieces have parted is shown in groups; what is tapped at one of them is done to its pieces and to no others.</summary>
public sealed class TrayGroupTests
{
    [Fact]
    public async Task Fault_OfOneAtTheEarlierStep_IsNotNotedOnOneThatWentOn()
    {
        await using var shop = await PartedAsync();
        var said = BenchShop.Must(await AsideAsync(shop, new Target(shop.Code, 1, 1)));
        Assert.Equal([(await shop.PiecesAsync())[2].Code], said.Codes);
    }

    [Fact]
    public async Task Release_OfOneAtTheEarlierStep_LeavesTheOneThatWentOnAside()
    {
        await using var shop = await PartedAsync();
        var codes = (await shop.PiecesAsync()).Select(p => p.Code).ToList();
        BenchShop.Must(await AsideAsync(shop, new Target(codes[0])));
        BenchShop.Must(await AsideAsync(shop, new Target(codes[2])));
        var release = new WithReason(new Target(shop.Code, 1, 1), "looked at");
        Assert.Equal([codes[2]], BenchShop.Must(await shop.Shop.Get<ReleasePieces>().RunAsync(shop.Ask(), release)).Codes);
    }

    [Fact]
    public async Task Fault_OfOneThatDoesNotRunYet_IsNotNotedOnOneThatRuns()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        BenchShop.Must(await shop.ReceiveAsync());
        BenchShop.Must(await shop.StartAsync(1, count: 1));
        BenchShop.Must(await AsideAsync(shop, new Target((await shop.PiecesAsync())[1].Code)));
        var groups = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces;
        Assert.Equal(3, groups.Count);
        foreach (var group in groups.Where(g => g.State != PieceState.Held))
        {
            var said = BenchShop.Must(await AsideAsync(shop, new Target(shop.Code, 1, 1, group.Group, group.Runs)));
            Assert.Equal(group.Codes, said.Codes);
        }
    }

    [Fact]
    public async Task Tap_AtAGroup_SaysWhichItIs()
    {
        await using var shop = await PartedAsync();
        var groups = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces;
        await using var page = TestPage.Plain();
        var actions = page.Render<StepActions>(p => p.Add(a => a.Sheet, groups[0]).Add(a => a.Count, 1));
        var tap = System.Text.Json.JsonSerializer.Deserialize<Tap>(
            actions.Find("[data-move]").GetAttribute("data-move")!,
            JsonForms.Default
        )!;
        Assert.Equal((shop.Code, 1, 1, PieceState.Received, false), (tap.Code, tap.Step, tap.Count, tap.Group, tap.Runs));
    }

    [Fact]
    public async Task FaultPanel_Tray_MeansOnePieceUntilMoreAreChosen()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        BenchShop.Must(await shop.ReceiveAsync());
        var sheet = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);
        await using var page = TestPage.Plain();
        page.Services.AddSingleton(shop.Shop.Get<ReportFault>());
        page.Services.AddSingleton(shop.Shop.Get<TakePhoto>());
        var worker = TestPage.Worker(shop.Worker);
        var panel = page.Render<FaultPanel>(p =>
            p.Add(f => f.Sheet, sheet)
                .Add(f => f.OnDone, EventCallback.Factory.Create<(Guid, Moved)?>(page, _ => { }))
                .AddCascadingValue(TestPage.Session(worker))
        );
        await panel.FindAll(".fault-list button").First().ClickAsync();
        AngleSharp.Dom.IElement Aside(int count) => panel.FindAll("button").Single(b => b.TextContent == $"Put {count} of 3 aside");
        Assert.NotNull(Aside(1));
        await panel.Find("button[aria-label='One more']").ClickAsync();
        await Aside(2).ClickAsync();
        Assert.Equal(2, (await shop.PiecesAsync()).Count(p => p.State == PieceState.Held));
    }

    [Fact]
    public async Task Wipe_LargeTray_OffersAsManyAsCanBeSprayedInTime()
    {
        await using var shop = await BenchShop.OpenAsync(20);
        await shop.WorkToAsync(StepKind.Wipe);
        var sheet = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);
        await using var page = TestPage.Plain();
        page.ComponentFactories.AddStub<StepSheet>();
        page.ComponentFactories.AddStub<WayList>();
        var card = page.Render<PieceCard>(p => p.Add(c => c.Sheet, sheet).Add(c => c.PromisedText, "today"));
        // 60 s each to wipe, 40 s each to spray, 10 min at most between the two.
        Assert.Equal("11 of 20", card.Find("output").TextContent);
        Assert.DoesNotContain("not too many", card.Markup, StringComparison.Ordinal);
        await card.Find("button[aria-label='One more']").ClickAsync();
        Assert.Contains("Are 12 not too many?", card.Markup, StringComparison.Ordinal);
    }

    [Fact]
    public async Task HandOver_SomeStillToBePacked_TakesThePackedOnes()
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Pack);
        var pieces = await shop.PiecesAsync();
        var packed = pieces[1];
        Task<Result<Moved>> GiveAsync() => shop.Shop.Get<HandOver>().RunAsync(shop.Ask(), new Target(shop.Code, null, 1));
        Assert.Equal("step-open", BenchShop.Code0(await GiveAsync()));
        var pack = new FinishWish(new Target(packed.Code, packed.NextAttended!.Number));
        BenchShop.Must(await shop.Shop.Get<FinishStep>().RunAsync(shop.Ask(), pack));
        Assert.Equal([packed.Code], BenchShop.Must(await GiveAsync()).Codes);
    }

    [Fact]
    public async Task Inspect_AfterOneWasJudgedNotGood_TheOthersOfTheTrayAreStillJudged()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Inspect);
        var step = (await shop.PiecesAsync())[0].NextAttended!.Number;
        Task<Result<Moved>> JudgeAsync(int? count, TimeDecision? follows) =>
            shop
                .Shop.Get<InspectPieces>()
                .RunAsync(shop.Ask(), new Inspection(new Target(shop.Code, step, count), new Findings(), follows));
        BenchShop.Must(await JudgeAsync(1, new TimeDecision(TimeChoice.Spoil, "a run")));
        BenchShop.Must(await JudgeAsync(null, null));
        Assert.Equal([PieceState.Spoiled, PieceState.CheckedGood, PieceState.CheckedGood], (await shop.PiecesAsync()).Select(p => p.State));
    }

    [Fact]
    public async Task InspectPanel_Tray_AFaultMeansOneAndTheButtonsSayHowMany()
    {
        await using var shop = await BenchShop.OpenAsync(3);
        await shop.WorkToAsync(StepKind.Inspect);
        var sheet = Assert.Single((await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces);
        await using var page = new BunitContext();
        page.Services.AddLocalization();
        page.Services.AddSingleton<Spoken>();
        page.Services.AddSingleton(TimeProvider.System);
        page.Services.AddSingleton(shop.Shop.Get<InspectPieces>());
        page.Services.AddSingleton(shop.Shop.Get<TakePhoto>());
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        var panel = page.Render<InspectPanel>(p =>
            p.Add(f => f.Sheet, sheet)
                .Add(f => f.Count, 3)
                .Add(f => f.OnDone, EventCallback.Factory.Create<(Guid, Moved)?>(page, _ => { }))
                .AddCascadingValue(TestPage.Session(TestPage.Worker(shop.Worker)))
        );
        AngleSharp.Dom.IElement Button(string word) => panel.FindAll("button").Single(b => b.TextContent.Trim() == word);
        Assert.NotNull(Button("All 3 good"));
        await panel.FindAll(".fault-list button").First(b => b.TextContent.StartsWith("Cracked", StringComparison.Ordinal)).ClickAsync();
        await Button("Report 1 of 3 as spoiled").ClickAsync();
        Assert.Single(await shop.PiecesAsync(), p => p.State == PieceState.Spoiled);
        panel.Render(p => p.Add(f => f.Count, 2));
        Assert.NotNull(Button("2 of 3 good"));
    }

    /// <summary>A tray of four, of which the first two are a step ahead.</summary>
    private static async Task<BenchShop> PartedAsync()
    {
        var shop = await BenchShop.OpenAsync(4);
        BenchShop.Must(await shop.ReceiveAsync());
        BenchShop.Must(await shop.FinishAsync(1, count: 2));
        return shop;
    }

    private static Task<Result<Moved>> AsideAsync(BenchShop shop, Target target) =>
        shop
            .Shop.Get<ReportFault>()
            .RunAsync(shop.Ask(), new FaultReport(target, "run", "", new TimeDecision(TimeChoice.Hold, "look at it")));
}
