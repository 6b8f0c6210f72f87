using System.Text.Json;
using Bunit;
using Bunit.TestDoubles;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Bench.Pages;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>The page of a code as a whole, which reads itself again every few seconds.</summary>
public sealed class CodePageTests
{
    [Fact]
    public async Task Wait_LoadTooCold_TheQuestionStaysAwayAndALaterTapTakesItsOwnTimeAndReading()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await shop.StartAsync((await shop.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        await using var page = new OpenPage(shop, load);
        await page.HearAsync(
            new Tap
            {
                Move = "finishBatch",
                Code = load,
                Celsius = 20,
                TappedAt = 1_772_614_800_000,
            },
            "temperature-off"
        );
        var wait = page.Button("Close the door again, leave it in longer");
        var kept = JsonSerializer.Deserialize<Tap>(wait.GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(("keepReading", load, 20m), (kept.Move, kept.Code, kept.Celsius));
        await wait.ClickAsync();
        await page.ReadAgainAsync();
        Assert.Empty(page.View.FindAll(".decide"));
        var tap = JsonSerializer.Deserialize<Tap>(page.Button("All out").GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Equal(("finishBatch", null, null), (tap.Move, tap.TappedAt, tap.Celsius));
    }

    [Theory]
    [InlineData("too-early", "Wait")]
    [InlineData("too-late", "Not now")]
    public async Task Wait_PieceOutsideItsTime_TheQuestionStaysAway(string asked, string press)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Tape);
        var tape = (await shop.PiecesAsync())[0].NextAttended!.Number;
        BenchShop.Must(await shop.StartAsync(tape));
        await using var page = new OpenPage(shop, shop.Code);
        await page.HearAsync(
            new Tap
            {
                Move = "finish",
                Code = shop.Code,
                Step = tape,
                TappedAt = 1_772_614_800_000,
            },
            asked
        );
        Assert.False(page.Button(press).HasAttribute("data-move"));
        await page.Button(press).ClickAsync();
        await page.ReadAgainAsync();
        Assert.Empty(page.View.FindAll(".decide"));
        Assert.NotNull(page.Button("Done"));
    }

    [Fact]
    public async Task Decide_TooEarlyAndTheTimeIsOverMeanwhile_SaysSoAndLeadsBackToAllOut()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var load = BenchShop.Must(await shop.StartAsync(cure.Number)).Batch!;
        shop.Wait(cure.Settings.MinSeconds - 16);
        await using var page = new OpenPage(shop, load);
        var tap = new Tap
        {
            Move = "finishBatch",
            Code = load,
            TappedAt = shop.Shop.Clock.GetUtcNow().ToUnixTimeMilliseconds(),
        };
        await page.HearAsync(tap, "too-early");
        Assert.NotNull(page.Button("Wait"));
        shop.Wait(180);
        await page.ReadAgainAsync();
        Assert.DoesNotContain(page.View.FindAll("button"), b => b.TextContent.Trim() == "Wait");
        Assert.Contains("The shortest time is over since", page.View.Find(".decide [role=status]").TextContent, StringComparison.Ordinal);
        // It can still be said that it ended when it was tapped.
        Assert.NotNull(page.Button("Go on as it is"));
        await page.Button("It stayed until now: go back and end it").ClickAsync();
        await page.ReadAgainAsync();
        Assert.Empty(page.View.FindAll(".decide"));
        var again = JsonSerializer.Deserialize<Tap>(page.Button("All out").GetAttribute("data-move")!, JsonForms.Default)!;
        Assert.Null(again.TappedAt);
    }

    [Fact]
    public async Task Decide_SomebodyElseEndedTheLoadMeanwhile_NothingIsAskedAnyMore()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        var cure = (await shop.PiecesAsync())[0].NextAttended!;
        var load = BenchShop.Must(await shop.StartAsync(cure.Number)).Batch!;
        await using var page = new OpenPage(shop, load);
        await page.HearAsync(
            new Tap
            {
                Move = "finishBatch",
                Code = load,
                Celsius = 20,
            },
            "temperature-off"
        );
        await page.ReadAgainAsync();
        Assert.Single(page.View.FindAll(".decide"));
        shop.Wait(cure.Settings.MinSeconds);
        BenchShop.Must(await shop.FinishBatchAsync(new FinishBatchWish(load, 160)));
        await page.ReadAgainAsync();
        Assert.Empty(page.View.FindAll(".decide"));
        Assert.NotEmpty(page.View.FindAll("[aria-label='What comes now']"));
    }

    [Fact]
    public async Task BarLot_SaysWhatWasDoneAndOffersNoUndo()
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        await using var context = await shop.Shop.ContextAsync();
        var id = (await shop.PiecesAsync())[0].Items.First(i => i.Can is not null).Can;
        await using var page = new OpenPage(shop, (await context.Cans.FirstAsync(c => c.Id == id)).Code);
        await page.View.Find("input[name='reason']").ChangeAsync("peels");
        await page.View.FindAll("button").First(b => b.TextContent.StartsWith("Bar lot", StringComparison.Ordinal)).ClickAsync();
        page.View.WaitForAssertion(() => Assert.NotEqual("", page.View.Find(".did").TextContent));
        Assert.Empty(page.View.FindAll("undo-bar"));
    }

    [Theory]
    [InlineData("scanIn", false)]
    [InlineData("scanOut", false)]
    [InlineData("build", false)]
    [InlineData("dropBatch", true)]
    [InlineData("startBatch", true)]
    public async Task Bar_OfATapThatNoStepBackTakesBack_IsNotShown(string move, bool shown)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Cure);
        await using var page = new OpenPage(shop, shop.Code);
        await page.HearAsync(
            new MoveOutcomeArgs
            {
                Ok = true,
                Move = move,
                Command = Guid.CreateVersion7(),
                Text = "Done.",
            }
        );
        Assert.Equal(shown ? 1 : 0, page.View.FindAll("undo-bar").Count);
    }

    /// <summary>The page of a code, with the scan line and the clock of its news in the test's hand.</summary>
    private sealed class OpenPage : IAsyncDisposable
    {
        private readonly BunitContext page = new();

        internal OpenPage(BenchShop shop, string code)
        {
            page.Services.AddLocalization();
            page.Services.AddSingleton<Spoken>();
            page.Services.AddSingleton<TimeProvider>(shop.Shop.Clock);
            page.Services.AddSingleton(shop.Shop.Get<FindByCode>());
            page.Services.AddSingleton(shop.Shop.Get<SettingsView>());
            page.Services.AddSingleton(shop.Shop.Get<HoldLot>());
            page.JSInterop.Mode = JSRuntimeMode.Loose;
            page.ComponentFactories.AddStub<ScanBar>();
            page.ComponentFactories.AddStub<LiveRefresh>();
            page.ComponentFactories.AddStub<StepSheet>();
            page.ComponentFactories.AddStub<NextByPlan>();
            var worker = TestPage.Worker(shop.Worker);
            View = page.Render<CodePage>(p => p.Add(c => c.Code, code).AddCascadingValue(TestPage.Session(worker)));
        }

        internal IRenderedComponent<CodePage> View { get; }

        internal AngleSharp.Dom.IElement Button(string word) => View.FindAll("button").First(b => b.TextContent.Trim() == word);

        /// <summary>The server answered a tap with a question.</summary>
        internal Task HearAsync(Tap sent, string refusal) =>
            HearAsync(
                new MoveOutcomeArgs
                {
                    Move = sent.Move,
                    Tap = JsonSerializer.Serialize(sent, JsonForms.Default),
                    Refusals = [new OutcomeRefusal(refusal, "Decide.")],
                }
            );

        /// <summary>The server answered a tap.</summary>
        internal Task HearAsync(MoveOutcomeArgs outcome)
        {
            var heard = View.FindComponent<Stub<ScanBar>>().Instance.Parameters.Get(s => s.OnOutcome);
            return View.InvokeAsync(() => heard.InvokeAsync(outcome));
        }

        /// <summary>What the page does after news, and every few seconds without.</summary>
        internal Task ReadAgainAsync()
        {
            var news = View.FindComponent<Stub<LiveRefresh>>().Instance.Parameters.Get(l => l.OnChange);
            return View.InvokeAsync(news.InvokeAsync);
        }

        public ValueTask DisposeAsync() => page.DisposeAsync();
    }
}
