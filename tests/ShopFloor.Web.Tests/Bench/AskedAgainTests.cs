using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What a person chose is what happens, when the time around it has to be decided first.</summary>
public sealed class AskedAgainTests
{
    [Theory]
    [InlineData("Cracked", "Report it as spoiled", PieceState.Spoiled)]
    [InlineData("Cracked", "Put it aside", PieceState.Held)]
    [InlineData("Cracked", "Put aside, test first", PieceState.Held)]
    [InlineData("Dust", "Back to: Clean", PieceState.Reworking)]
    [InlineData(null, "Good", PieceState.CheckedGood)]
    public async Task Inspect_StillCooling_GoesOnWithWhatWasChosen(string? fault, string press, PieceState after)
    {
        await using var shop = await CoolingAsync(1, own: true);
        await using var page = await PanelAsync(shop);
        await page.PressAsync(fault, press);
        Assert.Equal(PieceState.InWork, (await shop.PiecesAsync())[0].State);
        await page.PressAsync("It can be touched: go on");
        Assert.Equal(after, (await shop.PiecesAsync())[0].State);
        Assert.Equal(fault is null ? [] : [FaultList.All.First(f => f.Name == fault).Key], await SeenAsync(shop));
    }

    [Fact]
    public async Task Inspect_SomeOfATrayStillCooling_AreJudgedAsChosenAndTheOthersNot()
    {
        await using var shop = await CoolingAsync(3, own: false);
        await using var page = await PanelAsync(shop, count: 2);
        await page.PressAsync("Cracked", "Report 1 of 3 as spoiled");
        await page.PressAsync("Cracked");
        await page.Panel.Find("button[aria-label='One more']").ClickAsync();
        await page.PressAsync("Report 2 of 3 as spoiled");
        // Somebody else may have changed how many there are.
        page.Panel.Render(p => p.Add(i => i.Count, 3));
        await page.PressAsync("It can be touched: go on");
        Assert.Equal(
            [PieceState.Spoiled, PieceState.Spoiled, PieceState.InWork],
            (await shop.PiecesAsync()).Select(p => p.State).OrderByDescending(s => s == PieceState.Spoiled)
        );
    }

    [Fact]
    public async Task Inspect_AnotherFaultIsChosenThen_IsJudgedAnew()
    {
        await using var shop = await CoolingAsync(1, own: true);
        await using var page = await PanelAsync(shop);
        await page.PressAsync("Cracked", "Report it as spoiled");
        await page.PressAsync("Dust");
        Assert.DoesNotContain(page.Panel.FindAll("button"), b => b.TextContent.Contains("It can be touched", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Judge_TestPieceStillCooling_GoesOnWithWhatWasChosen()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true, material: "slate");
        BenchShop.Must(await shop.ReceiveAsync());
        var test = BenchShop.Must(await shop.Shop.Get<MakeTestPiece>().RunAsync(shop.Ask(), new Target(shop.Code))).Codes[0];
        BenchShop.Must(await shop.Shop.Get<ReceivePieces>().RunAsync(shop.Ask(), new Target(test)));
        while ((await shop.PieceAsync(test)).NextAttended is { Kind: not StepKind.Inspect } next)
        {
            await shop.WorkToAsync(next.Kind, test);
            await shop.DoAsync(next, test);
        }
        await using var page = PageOf(shop);
        page.Services.AddSingleton(shop.Shop.Get<JudgeTest>());
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(test)).Value.Pieces[0];
        var panel = page.Render<TestPanel>(p =>
            p.Add(i => i.Sheet, sheet)
                .Add(i => i.OnDone, EventCallback.Factory.Create<(Guid, Moved)?>(page, _ => { }))
                .AddCascadingValue(Session(shop))
        );
        AngleSharp.Dom.IElement Button(string word) =>
            panel.FindAll("button").First(b => b.TextContent.Trim().StartsWith(word, StringComparison.Ordinal));
        await Button("Good: ").ClickAsync();
        Assert.Equal(PieceState.InWork, (await shop.PieceAsync(test)).State);
        await Button("It can be touched: go on").ClickAsync();
        var judged = await shop.PieceAsync(test);
        Assert.Equal(
            (PieceState.CheckedGood, "It could be touched"),
            (judged.State, judged.Items.First(i => i.Kind == StepKind.Inspect).Decision)
        );
    }

    [Fact]
    public void Decide_AnyTap_GoesAgainAsItWasWithTheDecision()
    {
        var tap = new Tap
        {
            Move = "startBatch",
            Code = "L-3",
            Step = 4,
            Count = 2,
            Other = "C-1",
            Station = "oven",
            Plan = "L1",
            Text = "Ida",
            Celsius = 148,
            AtSignal = true,
            OnlyScanned = true,
            SecondsAgo = 3,
            TappedAt = 1_772_614_800_000,
        };
        var outcome = new MoveOutcomeArgs
        {
            Tap = System.Text.Json.JsonSerializer.Serialize(tap, ShopFloor.Data.JsonForms.Default),
            Refusals = [new OutcomeRefusal("too-late", "The cure has run too long.")],
        };
        var decision = new TimeDecision(TimeChoice.Spoil, "Power cut");
        Assert.Equal(tap with { Decision = decision }, Decisions.Again(outcome, decision));
    }

    // The last rest before the look has just begun.
    private static async Task<BenchShop> CoolingAsync(int quantity, bool own)
    {
        var shop = await BenchShop.OpenAsync(quantity, own);
        BenchShop.Must(await shop.ReceiveAsync());
        while ((await shop.PiecesAsync())[0].NextAttended is { Kind: not StepKind.Inspect } next)
        {
            await shop.WorkToAsync(next.Kind);
            await shop.DoAsync(next);
        }
        return shop;
    }

    private static async Task<string[]> SeenAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        var journal = await context.Journal.AsNoTracking().OrderBy(j => j.Sequence).ToListAsync();
        return [.. journal.Select(j => j.Read()).OfType<PieceInspected>().SelectMany(i => i.Findings.Seen)];
    }

    private static BunitContext PageOf(BenchShop shop)
    {
        var page = TestPage.Plain();
        page.Services.AddSingleton(shop.Shop.Get<InspectPieces>());
        page.Services.AddSingleton(shop.Shop.Get<TakePhoto>());
        return page;
    }

    private static Task<AuthenticationState> Session(BenchShop shop) => TestPage.Session(shop.Worker);

    private static async Task<OpenPanel> PanelAsync(BenchShop shop, int? count = null)
    {
        var page = PageOf(shop);
        var sheet = (await shop.Shop.Get<FindByCode>().ReadAsync(shop.Code)).Value.Pieces[0];
        var panel = page.Render<InspectPanel>(p =>
            p.Add(i => i.Sheet, sheet)
                .Add(i => i.Count, count)
                .Add(i => i.OnDone, EventCallback.Factory.Create<(Guid, Moved)?>(page, _ => { }))
                .AddCascadingValue(Session(shop))
        );
        return new OpenPanel(page, panel);
    }

    private sealed record OpenPanel(BunitContext Page, IRenderedComponent<InspectPanel> Panel) : IAsyncDisposable
    {
        internal async Task PressAsync(params string?[] words)
        {
            foreach (var word in words.OfType<string>())
            {
                var exact = Panel.FindAll("button").FirstOrDefault(b => b.TextContent.Trim() == word);
                var button = exact ?? Panel.FindAll("button").First(b => b.TextContent.Trim().StartsWith(word, StringComparison.Ordinal));
                await button.ClickAsync();
            }
        }

        public ValueTask DisposeAsync() => Page.DisposeAsync();
    }
}
