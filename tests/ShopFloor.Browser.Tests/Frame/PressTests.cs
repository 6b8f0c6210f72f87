using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>A press that began on a button counts, also when the page moves up between down and up, as it does when a fault goes.</summary>
[Collection(OnStage.Name)]
public sealed class PressTests(Stage stage)
{
    private const string Build = """
        () => {
          document.body.innerHTML = '<div id="fault" style="height:150px"></div><button id="b" style="display:block;height:40px">B</button>';
          window.pressed = 0;
          const b = document.getElementById('b');
          b.addEventListener('click', () => window.pressed++);
          b.addEventListener('mousedown', () => document.getElementById('fault').style.height = window.goes ? '0' : '150px');
        }
        """;

    [Theory]
    [InlineData(false, 0, 1)]
    [InlineData(true, 0, 1)]
    [InlineData(true, 60, 0)]
    public async Task Press_OnAButtonThatMovesAway_CountsOnceUnlessTheHandMovedToo(bool goes, int moved, int counted)
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk);
        await visitor.GoAsync("/sign-in");
        var page = visitor.Page;
        await page.EvaluateAsync(Build);
        await page.EvaluateAsync("goes => { window.goes = goes; }", goes);
        var box = (await page.Locator("#b").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + 5, box.Y + 20);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + 5 + moved, box.Y + 20 + moved);
        await page.Mouse.UpAsync();
        Assert.Equal(counted, await page.EvaluateAsync<int>("() => window.pressed"));
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1700, 1)]
    public async Task Press_OnUndo_CountsOnlyAfterItsFirstMoment(int wait, int counted)
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk);
        await visitor.GoAsync("/sign-in");
        var page = visitor.Page;
        await page.EvaluateAsync(
            """
            () => {
              document.body.innerHTML = '<undo-bar class="undo"><button class="button plain">Undo</button></undo-bar>';
              window.pressed = 0;
              document.addEventListener('click', () => window.pressed++);
            }
            """
        );
        var box = (await page.Locator("undo-bar button").BoundingBoxAsync())!;
        await Task.Delay(wait);
        await page.Mouse.ClickAsync(box.X + 5, box.Y + 5);
        Assert.Equal(counted, await page.EvaluateAsync<int>("() => window.pressed"));
    }

    [Theory]
    [InlineData("b.remove()", "near")]
    [InlineData("near.remove()", "far")]
    [InlineData("next.focus(); b.remove()", "next")]
    public async Task Press_OnAButtonThatGoesAway_LeavesTheKeyboardWhereItStood(string happens, string focused)
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk);
        await visitor.GoAsync("/sign-in");
        var page = visitor.Page;
        await page.EvaluateAsync(
            """
            happens => {
              document.body.innerHTML = '<main><div id="far"><div id="near"><button id="b">B</button></div><button id="next">N</button></div></main>';
              const [b, near, next] = ['b', 'near', 'next'].map((id) => document.getElementById(id));
              const does = { "b.remove()": () => b.remove(), "near.remove()": () => near.remove(), "next.focus(); b.remove()": () => { next.focus(); b.remove(); } };
              b.addEventListener('click', () => setTimeout(does[happens], 30));
            }
            """,
            happens
        );
        await page.Locator("#b").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#b")).ToHaveCountAsync(0);
        Assert.Equal(focused, await page.EvaluateAsync<string>("() => document.activeElement.id"));
    }
}
