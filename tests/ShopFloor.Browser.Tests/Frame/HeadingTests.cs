using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>The keyboard goes to the heading of a page that was gone to, never out of the field in which somebody types.</summary>
[Collection(OnStage.Name)]
public sealed class HeadingTests(Stage stage)
{
    private const string Counted =
        "() => { const ask = focusHeading; window.asked = 0; focusHeading = first => { ask(first); window.asked++; }; }";

    [Fact]
    public async Task Heading_WhileSomebodyTypesBeforeTheCircuitListens_LeavesTheFieldAlone()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var page = visitor.Page;
        var listening = await OpenUnheardAsync(page);
        await page.GetByLabel("Scan or type a code").FillAsync("4KT9");
        listening.SetResult();
        await visitor.ReadyAsync();
        await page.WaitForFunctionAsync("() => window.asked === 1");
        await page.Keyboard.TypeAsync("XX");
        await Assertions.Expect(page.GetByLabel("Scan or type a code")).ToHaveValueAsync("4KT9XX");
    }

    /// <summary>A scanner ends with Enter: what it sent is done with, and the field is free for the next code.</summary>
    [Fact]
    public async Task Scan_BeforeTheCircuitListens_DoesNotComeBackIntoTheField()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var page = visitor.Page;
        var listening = await OpenUnheardAsync(page);
        await page.GetByLabel("Scan or type a code").FillAsync("4KT9XX");
        await page.GetByLabel("Scan or type a code").PressAsync("Enter");
        listening.SetResult();
        await visitor.ReadyAsync();
        await page.WaitForFunctionAsync("() => window.asked === 1");
        await Assertions.Expect(page.GetByLabel("Scan or type a code")).ToHaveValueAsync("");
    }

    [Fact]
    public async Task Heading_OfAPageThatWasGoneTo_HasTheKeyboard()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        await visitor.GoAsync("/bench");
        await visitor.Page.GetByRole(AriaRole.Link, new() { Name = "Calls" }).First.ClickAsync();
        await visitor.Page.EndsAsync("/bench/calls");
        await Assertions.Expect(visitor.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeFocusedAsync();
    }

    /// <summary>Opens the Bench, whose circuit begins only when the answer is set.</summary>
    private static async Task<TaskCompletionSource> OpenUnheardAsync(IPage page)
    {
        var listening = new TaskCompletionSource();
        await page.RouteAsync(
            "**/_blazor/negotiate*",
            async route =>
            {
                await listening.Task;
                await route.ContinueAsync();
            }
        );
        await page.GotoAsync(new Uri(new Uri(page.Url), "/bench").ToString());
        await page.EvaluateAsync(Counted);
        return listening;
    }
}
