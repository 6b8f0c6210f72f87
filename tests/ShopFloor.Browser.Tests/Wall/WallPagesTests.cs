using ShopFloor.Browser.Tests.Harness;

namespace ShopFloor.Browser.Tests.Wall;

/// <summary>How the Wall looks, from a distance and to the browser.</summary>
[Collection(OnStage.Name)]
public sealed class WallPagesTests(Stage stage)
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Wall_DemoShop_IsReadAndFitsTheScreen(bool dark)
    {
        await using var visitor = await stage.VisitAsync(Screen.Wall, "bench", dark);
        await visitor.GoAsync("/wall");
        await visitor.Page.WaitForSelectorAsync("window-timer[data-state]");
        await visitor.ShootAsync("wall", fullPage: false);
        Assert.Empty(await visitor.AxeAsync());
        Assert.Empty(visitor.Complaints);
    }
}
