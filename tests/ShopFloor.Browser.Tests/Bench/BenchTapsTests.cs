using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Browser.Tests.Bench;

/// <summary>Taps with gloves over a weak line: never lost, never doubled.</summary>
public sealed class BenchTapsTests : IAsyncLifetime
{
    private readonly Stage stage = new();

    public Task InitializeAsync() => stage.InitializeAsync();

    public Task DisposeAsync() => stage.DisposeAsync();

    [Fact]
    public async Task Done_TappedFiveTimesAtOnce_HappensOnce()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (code, step) = await stage.UpForAsync(StepKind.Clean);
        await visitor.GoAsync($"/b/{code}");
        await visitor.Page.EvaluateAsync(
            "() => { const b = [...document.querySelectorAll('[data-move]')].find(b => b.dataset.move.includes('finish')); for (let i = 0; i < 5; i++) b.click(); }"
        );
        await visitor.Page.WaitForSelectorAsync("html[data-bench-outcomes='1']");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).WaitForAsync();
        Assert.Single(await stage.FinishedAsync((code, step)));
        // The next tap need not wait until undo has gone.
        var (undo, foot) = (
            (await visitor.Page.Locator(".undo").BoundingBoxAsync())!,
            (await visitor.Page.Locator(".bench-foot > .button").First.BoundingBoxAsync())!
        );
        Assert.True(undo.Y + undo.Height <= foot.Y, $"Undo ends at {undo.Y + undo.Height}, the action begins at {foot.Y}.");
        // It stands in the page and covers nothing of it, and what it says is not said a second time beside it.
        var head = (await visitor.Page.Locator(".piece-head").First.BoundingBoxAsync())!;
        var said = (await visitor.Page.Locator(".scan-bar .said").First.BoundingBoxAsync())!;
        Assert.True(undo.Y + undo.Height <= head.Y, $"Undo ends at {undo.Y + undo.Height}, the piece begins at {head.Y}.");
        Assert.InRange(said.Height, 0, 1);
        Assert.Equal(
            "0",
            await visitor.Page.EvaluateAsync<string>("() => String(JSON.parse(localStorage.getItem('bench-outbox')).length)")
        );
        // A second touch in the first moment, wherever Undo comes up, takes nothing back.
        await visitor.Page.Locator(".undo[data-fresh] button").DispatchEventAsync("click");
        await visitor.Page.Locator(".undo:not([data-fresh])").WaitForAsync();
        Assert.Equal("1", await visitor.Page.Locator("html").GetAttributeAsync("data-bench-outcomes"));
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(visitor.Page.Locator(".step-word h2").First).ToHaveTextAsync("Clean");
        await Assertions.Expect(visitor.Page.Locator("[data-said]")).ToHaveTextAsync($"{code} taken one step back.");
        Assert.Empty(visitor.Complaints);
    }

    [Fact]
    public async Task Done_TappedWithoutConnection_IsKeptAndSentOnceTheLineIsBack()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (code, step) = await stage.UpForAsync(StepKind.Wipe);
        await visitor.GoAsync($"/b/{code}");
        await visitor.Page.Context.SetOfflineAsync(true);
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Done" }).First.ClickAsync();
        await Assertions.Expect(visitor.Page.Locator("[data-said]")).ToContainTextAsync("1 tap(s) are kept here");
        await visitor.ShootAsync("bench-offline", fullPage: false);
        Assert.Empty(await stage.FinishedAsync((code, step)));
        await visitor.Page.Context.SetOfflineAsync(false);
        await visitor.Page.WaitForSelectorAsync("html[data-bench-outcomes='1']");
        Assert.Single(await stage.FinishedAsync((code, step)));
    }

    [Fact]
    public async Task Done_AnswerLostOnTheWay_IsSentAgainUnderTheSameIdAndDoneOnce()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (code, step) = await stage.UpForAsync(StepKind.Clean);
        await visitor.GoAsync($"/b/{code}");
        var lost = 0;
        await visitor.Page.RouteAsync(
            "**/bench/moves",
            async route =>
            {
                // The server gets the tap and saves it; the first answer never arrives.
                if (Interlocked.Increment(ref lost) > 1)
                {
                    await route.ContinueAsync();
                    return;
                }
                await route.FetchAsync();
                await route.AbortAsync();
            }
        );
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Done" }).First.ClickAsync();
        await visitor.Page.WaitForSelectorAsync("html[data-bench-outcomes='1']");
        Assert.True(lost >= 2);
        Assert.Single(await stage.FinishedAsync((code, step)));
        await Assertions.Expect(visitor.Page.Locator(".said[data-kind=yes]")).ToBeVisibleAsync();
    }

    [Fact]
    public async Task AllOut_TooEarly_IsDecidedWithAReasonAndShown()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        await using var context = await stage.ContextAsync();
        var load = await context.Batches.Where(b => b.State == BatchState.Running).OrderBy(b => b.Code).Select(b => b.Code).FirstAsync();
        await visitor.GoAsync($"/b/{load}");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "All out" }).ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Heading, new() { Name = "Decide what to do" }).WaitForAsync();
        await visitor.ShootAsync("bench-decide");
        Assert.Empty(await visitor.AxeAsync());
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Power cut" }).ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Go on as it is" }).ClickAsync();
        await Assertions.Expect(visitor.Page.Locator(".piece-head .status")).ToHaveTextAsync("done");
        var decided = await context.WorkItems.AsNoTracking().Where(i => i.Decision != null).Select(i => i.Decision).ToListAsync();
        Assert.Contains("too-early: Power cut", decided);
        Assert.Empty(visitor.Complaints);
    }

    [Fact]
    public async Task Scan_TypedCodeFromTheFirstPage_OpensThePieceAndAWrongOneSaysSo()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (code, _) = await stage.UpForAsync(StepKind.Clean);
        await visitor.GoAsync("/bench");
        await visitor.Page.GetByLabel("Scan or type a code").FillAsync("4KT9XX");
        await visitor.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(visitor.Page.Locator(".said[data-kind=no]")).ToBeVisibleAsync();
        await visitor.Page.GetByLabel("Scan or type a code").FillAsync($"https://shop.example/b/{code.ToLowerInvariant()}");
        await visitor.Page.Keyboard.PressAsync("Enter");
        await visitor.Page.EndsAsync($"/b/{code}");
    }

    /// <summary>The browser's detector throws at frames of a camera that is not ready yet.</summary>
    [Fact]
    public async Task Camera_FramesThatCannotBeRead_AreLookedPastAndTheCameraGoesOff()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (code, _) = await stage.UpForAsync(StepKind.Clean);
        await visitor.Page.AddInitScriptAsync(
            $$"""
            navigator.mediaDevices.getUserMedia = async () => (globalThis.filmed = document.createElement("canvas").captureStream(5));
            let frames = 0;
            globalThis.BarcodeDetector = class {
              async detect() {
                if (++frames < 3) throw new DOMException("not ready", "InvalidStateError");
                return [{ rawValue: "{{code}}" }];
              }
            };
            HTMLMediaElement.prototype.play = async () => {};
            """
        );
        await visitor.GoAsync("/bench");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Scan with the camera" }).ClickAsync();
        await visitor.Page.EndsAsync($"/b/{code}");
        Assert.Equal("ended", await visitor.Page.EvaluateAsync<string>("() => filmed.getTracks()[0].readyState"));
        Assert.Empty(visitor.Complaints);
    }

    [Fact]
    public async Task Fault_ReportedOnAPiece_PutsItAsideWithTheUsualAction()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (code, _) = await stage.UpForAsync(StepKind.Press);
        await visitor.GoAsync($"/b/{code}");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Fault" }).ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Dropped" }).ClickAsync();
        await visitor.ShootAsync("bench-fault");
        Assert.Empty(await visitor.AxeAsync());
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Put it aside", Exact = true }).ClickAsync();
        await Assertions.Expect(visitor.Page.Locator(".piece-head .status")).ToHaveTextAsync("held");
        Assert.Empty(visitor.Complaints);
    }

    /// <summary>The list of faults is longer than a phone's screen: what a choice brings up would begin far below it.</summary>
    [Fact]
    public async Task Fault_KindChosenOnAPhone_BringsItsCauseAndWhatIsUsuallyDoneIntoView()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        await visitor.Page.EmulateMediaAsync(new() { ReducedMotion = ReducedMotion.Reduce });
        var (code, _) = await stage.UpForAsync(StepKind.Press);
        await visitor.GoAsync($"/b/{code}");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Fault" }).ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Fisheye" }).ClickAsync();
        await Assertions.Expect(visitor.Page.Locator("bench-brought .notice").First).ToBeInViewportAsync();
        await Assertions.Expect(visitor.Page.Locator("bench-brought .button.primary").First).ToBeInViewportAsync();
        Assert.Empty(visitor.Complaints);
    }
}
