using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;

namespace ShopFloor.Browser.Tests.Frame;

[Collection(OnStage.Name)]
public sealed class SamplesTests(Stage stage)
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Samples_EachDevice_AreReadableAndLargeEnough(bool dark)
    {
        foreach (var screen in Screen.All)
        {
            await using var visitor = await stage.VisitAsync(screen, WorkerRole.Owner, dark);
            await visitor.GoAsync("/office/samples");
            await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Go on" }).ClickAsync();
            await visitor.Page.Locator(".faults").WaitForAsync();
            await visitor.ShootAsync("samples");
            Assert.Empty(await visitor.AxeAsync());
            Assert.Empty(await visitor.SmallTargetsAsync(40));
            Assert.Empty(visitor.Complaints);
            Assert.Equal(0, await visitor.OverflowAsync());
        }
    }

    [Fact]
    public async Task GoOn_WithFaults_MovesFocusToTheSummaryAndKeepsWhatWasTyped()
    {
        await using var visitor = await stage.VisitAsync(Screen.Tablet, WorkerRole.Owner);
        await visitor.GoAsync("/office/samples");
        var page = visitor.Page;
        await page.GetByLabel("Width").FillAsync("3x");
        await page.GetByRole(AriaRole.Button, new() { Name = "Go on" }).ClickAsync();

        await Assertions.Expect(page.Locator(".faults")).ToBeFocusedAsync();
        await Assertions.Expect(page.GetByLabel("Width")).ToHaveValueAsync("3x");
        await Assertions
            .Expect(page.GetByLabel("Width"))
            .ToHaveAttributeAsync("aria-describedby", "sample-width-hint sample-width-fault sample-width-echo");
        await page.GetByRole(AriaRole.Link, new() { Name = "Enter the width" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Width")).ToBeFocusedAsync();
        await page.GetByLabel("Width").FillAsync("88,9");
        await page.GetByLabel("Width").BlurAsync();
        await Assertions.Expect(page.Locator("#sample-width-echo")).ToHaveTextAsync("understood as 88.9 mm");
    }

    [Fact]
    public async Task Select_OneAndThenAnother_ShowsWhatWasChosenLast()
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk, WorkerRole.Owner);
        await visitor.GoAsync("/office/samples");
        var material = visitor.Page.GetByLabel("Material");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Go on" }).ClickAsync();
        await visitor.Page.Locator(".faults").WaitForAsync();
        foreach (var index in new[] { 1, 2 })
        {
            var chosen = await material.Locator("option").Nth(index).GetAttributeAsync("value");
            await material.SelectOptionAsync(chosen!);
            // The answer of the server is what once turned it back.
            await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Go on" }).ClickAsync();
            await Task.Delay(1500);
            await Assertions.Expect(material).ToHaveValueAsync(chosen!);
        }
    }

    [Fact]
    public async Task ConfirmNamed_WrongWord_KeepsTheButtonBarredAndEscClosesIt()
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk, WorkerRole.Owner);
        await visitor.GoAsync("/office/samples");
        var page = visitor.Page;
        await page.GetByRole(AriaRole.Button, new() { Name = "Erase", Exact = true }).ClickAsync();
        var erase = page.GetByRole(AriaRole.Button, new() { Name = "Erase the draft" });
        await Assertions.Expect(erase).ToBeDisabledAsync();
        await page.GetByLabel("Type 1042 to go on").FillAsync("1042");
        await Assertions.Expect(erase).ToBeEnabledAsync();
        await visitor.ShootAsync("confirm", fullPage: false);
        await page.Keyboard.PressAsync("Escape");
        await Assertions.Expect(erase).ToHaveCountAsync(0);
        Assert.Empty(visitor.Complaints);
    }

    [Fact]
    public async Task Explain_Opened_ShowsItsWordsAndClosesWithEsc()
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk, WorkerRole.Owner);
        await visitor.GoAsync("/office/samples");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "What is this? What the table shows" }).ClickAsync();
        await Assertions.Expect(visitor.Page.GetByText("Every open piece with its next step.")).ToBeVisibleAsync();
        await visitor.Page.Keyboard.PressAsync("Escape");
        await Assertions.Expect(visitor.Page.GetByText("Every open piece with its next step.")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task Appearance_Chosen_IsThereBeforeAnyScriptOnTheNextPage()
    {
        await using var visitor = await stage.VisitAsync(Screen.Desk, WorkerRole.Owner);
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Dark" }).ClickAsync();
        var html = await (await visitor.Page.APIRequest.GetAsync(stage.App.Address + "/office")).TextAsync();
        Assert.Contains("data-appearance=\"dark\"", html, StringComparison.Ordinal);
        Assert.Matches("dark-colours\" media=\"all\"", html);
    }
}
