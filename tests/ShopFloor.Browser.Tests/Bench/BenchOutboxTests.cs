using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Browser.Tests.Bench;

/// <summary>Taps that wait on a device several people use: they stay with who made them, and nobody loses them without a word.</summary>
public sealed class BenchOutboxTests : IAsyncLifetime
{
    private const string Moves = "**/bench/moves";
    private readonly Stage stage = new();

    public Task InitializeAsync() => stage.InitializeAsync();

    public Task DisposeAsync() => stage.DisposeAsync();

    [Fact]
    public async Task Tap_SomebodyElseSignsIn_WaitsForWhoMadeItAndIsBookedInTheirName()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var up = await TapWithoutLineAsync(visitor, StepKind.Wipe);
        await visitor.Page.Context.ClearCookiesAsync();
        await visitor.SignInAsync("owner");
        await visitor.Page.UnrouteAsync(Moves);
        await visitor.GoAsync("/bench");

        await Assertions.Expect(visitor.Page.Locator("[data-kept]")).ToContainTextAsync("1 tap(s) of Bo (bench) are kept here");
        Assert.Empty(await visitor.AxeAsync());
        Assert.Empty(await stage.FinishedAsync(up));

        await visitor.Page.Context.ClearCookiesAsync();
        await visitor.SignInAsync("bench");
        await visitor.GoAsync("/bench");
        await SentAsync(visitor);
        Assert.Equal(await WorkerAsync("bench"), Assert.Single(await stage.FinishedAsync(up)).By);
        await Assertions.Expect(visitor.Page.Locator("[data-kept]")).ToBeHiddenAsync();
    }

    [Fact]
    public async Task SignOut_TapWaitsAndTheLineIsBack_SendsItFirst()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var up = await TapWithoutLineAsync(visitor, StepKind.Wipe);
        await visitor.Page.UnrouteAsync(Moves);
        await SignOutAsync(visitor);
        await visitor.Page.GetByText("You are signed out.").WaitForAsync();
        Assert.Single(await stage.FinishedAsync(up));
    }

    [Fact]
    public async Task SignOut_TapCannotGo_AsksAndKeepsIt()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var up = await TapWithoutLineAsync(visitor, StepKind.Wipe);
        await visitor.Page.EvaluateAsync("() => localStorage.setItem('bench-sound', 'off')");
        await SignOutAsync(visitor);
        await Assertions.Expect(visitor.Page.Locator("dialog.ask")).ToContainTextAsync("1 tap(s) of yours could not be sent");
        Assert.Empty(await visitor.AxeAsync());
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Stay signed in" }).ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out", Exact = true }).ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out all the same" }).ClickAsync();
        await visitor.Page.GetByText("You are signed out.").WaitForAsync();
        Assert.Equal(
            "1",
            await visitor.Page.EvaluateAsync<string>("() => String(JSON.parse(localStorage.getItem('bench-outbox')).length)")
        );
        await visitor.Page.WaitForFunctionAsync("() => localStorage.getItem('bench-sound') === null");

        await visitor.Page.UnrouteAsync(Moves);
        await visitor.SignInAsync("bench");
        await visitor.GoAsync("/bench");
        await SentAsync(visitor);
        Assert.Single(await stage.FinishedAsync(up));
    }

    [Fact]
    public async Task Tap_ServerFailsAtIt_IsPutAsideAndThoseOfOtherPiecesGoOn()
    {
        await using var visitor = await stage.VisitAsync(Screen.Phone, "bench");
        var (bad, good) = (await stage.UpForAsync(StepKind.Clean), await stage.UpForAsync(StepKind.Wipe));
        await visitor.Page.RouteAsync(
            Moves,
            route =>
                route.Request.PostData!.Contains(bad.Code, StringComparison.Ordinal)
                    ? route.FulfillAsync(new() { Status = 500 })
                    : route.ContinueAsync()
        );
        await DoneAsync(visitor, bad.Code);
        await Assertions.Expect(visitor.Page.Locator("[data-kept]")).ToContainTextAsync($"what was tapped on {bad.Code}");
        await DoneAsync(visitor, good.Code);
        await visitor.Page.WaitForSelectorAsync("html[data-bench-outcomes='1']");
        Assert.Single(await stage.FinishedAsync(good));
        await Assertions.Expect(visitor.Page.Locator("[data-kept]")).ToContainTextAsync(bad.Code);
    }

    private async Task<(string Code, int Step)> TapWithoutLineAsync(Visitor visitor, StepKind kind)
    {
        var up = await stage.UpForAsync(kind);
        await visitor.Page.RouteAsync(Moves, route => route.AbortAsync());
        await DoneAsync(visitor, up.Code);
        await Assertions.Expect(visitor.Page.Locator("[data-said]")).ToContainTextAsync("1 tap(s) are kept here");
        return up;
    }

    private static async Task DoneAsync(Visitor visitor, string code)
    {
        await visitor.GoAsync($"/b/{code}");
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Done" }).First.ClickAsync();
    }

    private static async Task SignOutAsync(Visitor visitor)
    {
        await visitor.Page.Locator("details.me summary").ClickAsync();
        await visitor.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out", Exact = true }).ClickAsync();
    }

    // The page that the sign-in leads to sends it as well.
    private static Task SentAsync(Visitor visitor) =>
        visitor.Page.WaitForFunctionAsync("() => JSON.parse(localStorage.getItem('bench-outbox')).length === 0");

    private async Task<string> WorkerAsync(string role)
    {
        var name = AppHost.SignInOf(role).Name;
        await using var context = await stage.ContextAsync();
        return (await context.Users.Where(u => u.UserName == name).Select(u => u.Id).SingleAsync()).ToString();
    }
}
