using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>That something was kept is said where it was asked for, also at the foot of a page of many screens.</summary>
[Collection(OnStage.Name)]
public sealed class SavedTests(Stage stage)
{
    [Theory]
    [InlineData("/office/prices")]
    [InlineData("/office/workshop")]
    [InlineData("/office/workshop/letters")]
    [InlineData("/office/plan/weights")]
    [InlineData("/office/sending/mail")]
    [InlineData("/office/taxes")]
    [InlineData("/office/duties")]
    public async Task Saved_OnALongPage_IsSaidBesideTheButton(string path)
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, WorkerRole.Owner);
        await visitor.GoAsync(path);
        var button = visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Save", Exact = true });
        await button.ClickAsync();
        var said = visitor.Page.Locator(".row > [role=status]").Filter(new() { HasText = "Saved" });
        await Assertions.Expect(said).ToBeInViewportAsync();
        var (from, to) = (await button.BoundingBoxAsync(), await said.BoundingBoxAsync());
        Assert.InRange(Math.Abs(to!.Y - from!.Y), 0, 90);
    }

    [Fact]
    public async Task Back_ToOnesPlaceOnAPhone_IsInLineWithTheHeading()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, WorkerRole.Owner);
        await visitor.GoAsync("/counter/my-sign-in");
        var apart = await visitor.Page.EvaluateAsync<double>(
            """
            () => {
              const words = document.createRange();
              words.selectNodeContents([...document.querySelectorAll("h1 + a.button")][0]);
              return words.getBoundingClientRect().left - document.querySelector("h1").getBoundingClientRect().left;
            }
            """
        );
        Assert.InRange(apart, -1, 1);
    }
}
