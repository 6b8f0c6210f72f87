using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Bench;
using ShopFloor.Browser.Tests.Counter;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>By keyboard alone: what has the keyboard is seen, stands clear of what sticks to the edges, and is not lost when the page changes under it.</summary>
[Collection(OnStage.Name)]
public sealed class KeyboardTests(Stage stage)
{
    // Where the keyboard is, whether a ring shows it, and whether it can be seen there.
    private const string Look = """
        () => {
          const one = document.activeElement;
          const shown = one.closest(".card") ?? one;
          const box = one.getBoundingClientRect();
          const top = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
          const faults = [];
          if (getComputedStyle(shown).outlineStyle === "none" || parseFloat(getComputedStyle(shown).outlineWidth) < 2) faults.push("no ring");
          if (!top || !(one.contains(top) || top.contains(one) || shown.contains(top))) faults.push("covered");
          return one === document.body || faults.length === 0 ? "" : `${one.outerHTML.slice(0, 120)}: ${faults.join(", ")}`;
        }
        """;

    [Theory]
    [InlineData(WorkerRole.Counter, "/counter", 8)]
    [InlineData(WorkerRole.Bench, "/bench", 14)]
    [InlineData(WorkerRole.Owner, "/office/orders", 40)]
    public async Task Tab_FromPlaceToPlace_ShowsWhereTheKeyboardIs(string role, string path, int places)
    {
        await using var visitor = await stage.VisitAsync(role == WorkerRole.Owner ? Screen.Desk : Screen.Phone, role);
        await visitor.GoAsync(path);
        Assert.Empty(await TabAsync(visitor.Page, places));
    }

    [Fact]
    public async Task Picture_SentByKeyboard_LeavesTheKeyboardWhereTheFieldWas()
    {
        await using var visit = await CounterVisit.AtAsync(stage, Screen.Tablet);
        await visit.DescribeAsync();
        await visit.Page.Locator("#picture").FocusAsync();
        await visit.PictureAsync();
        await Assertions.Expect(visit.Page.Locator("#picture")).ToHaveCountAsync(0);
        Assert.True(await visit.Page.EvaluateAsync<bool>("() => document.activeElement.closest('main') !== null"));
    }

    [Fact]
    public async Task Step_StartedByKeyboard_LeavesItAtTheHeadingAndNothingCoversWhatComesNext()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, WorkerRole.Bench);
        var (code, _) = await stage.UpForAsync(StepKind.Clean);
        await visitor.GoAsync($"/b/{code}");
        var start = visitor.Page.Locator(".bench-foot button").First;
        await start.FocusAsync();
        await visitor.Page.Keyboard.PressAsync("Enter");
        await visitor.Page.Locator("undo-bar").WaitForAsync();
        await Assertions.Expect(visitor.Page.GetByRole(AriaRole.Heading, new() { Level = 1 })).ToBeFocusedAsync();
        await Assertions.Expect(visitor.Page.Locator("[data-said]").First).Not.ToBeEmptyAsync();
        Assert.Empty(await TabAsync(visitor.Page, 12));
        await visitor.Page.Locator("undo-bar:not([data-fresh]) button").ClickAsync();
        await Assertions.Expect(visitor.Page.Locator("undo-bar")).ToHaveCountAsync(0);
    }

    private static async Task<IReadOnlyList<string>> TabAsync(IPage page, int places)
    {
        var faults = new List<string>();
        for (var n = 0; n < places; n++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<string>(Look) is { Length: > 0 } fault)
                faults.Add(fault);
        }
        return faults;
    }
}
