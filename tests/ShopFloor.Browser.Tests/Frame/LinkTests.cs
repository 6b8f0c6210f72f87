using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>A link among words is not told by its colour alone.</summary>
[Collection(OnStage.Name)]
public sealed class LinkTests(Stage stage)
{
    [Theory]
    [InlineData("/office/people", "p a:not(.button)")]
    [InlineData("/office/prices", "p a:not(.button)")]
    public async Task Link_AmongWords_IsUnderlined(string path, string which)
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, WorkerRole.Owner);
        await visitor.GoAsync(path);
        var line = await visitor.Page.Locator(which).First.EvaluateAsync<string>("link => getComputedStyle(link).textDecorationLine");
        Assert.Equal("underline", line);
    }
}
