using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;
using ShopFloor.Web.Security.SecondSteps;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>The second step as somebody meets it on a tablet, in a program of its own: the shared one signs everybody in by password alone.</summary>
[Collection(OnStage.Name)]
public sealed class SecondStepTests(Stage stage)
{
    [Fact]
    public async Task SecondStep_SwitchedOnWithTheApp_IsAskedForAfterThePassword()
    {
        await using var app = await AppHost.StartAsync(demo: false);
        await using var visitor = await stage.VisitAsync(app.Address, Screen.TabletUpright, WorkerRole.Counter);
        var page = visitor.Page;
        await visitor.GoAsync("/counter/my-sign-in");
        await page.GetByText("Set up an authenticator app").ClickAsync();
        await LookAsync(visitor);
        await visitor.ShootAsync("second-step");
        await page.GetByLabel("Code from the app").FillAsync(CodeOf(await page.Locator("[data-key]").InnerTextAsync()));
        await page.GetByRole(AriaRole.Button, new() { Name = "Switch the second step on" }).ClickAsync();
        await page.GetByText("The second step is switched on.").WaitForAsync();
        var recovery = await page.Locator("[data-recovery] code").First.InnerTextAsync();
        await LookAsync(visitor);

        await page.Context.ClearCookiesAsync();
        await visitor.SignInAsync(WorkerRole.Counter, "/sign-in/code");
        await LookAsync(visitor);
        await page.GetByLabel("Code").FillAsync("000000");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Code")).ToHaveAttributeAsync("aria-invalid", "true");
        await page.GetByLabel("Code").FillAsync(recovery);
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in" }).ClickAsync();
        await page.EndsAsync("/counter");
        Assert.Empty(visitor.Complaints);
    }

    private static async Task LookAsync(Visitor visitor)
    {
        Assert.Empty(await visitor.AxeAsync());
        Assert.Empty(await visitor.SmallTargetsAsync(44));
        Assert.Equal(0, await visitor.OverflowAsync());
    }

    /// <summary>What the app shows for the key that was typed into it.</summary>
    private static string CodeOf(string typed)
    {
        var bits = string.Concat(
            typed
                .Where(char.IsAsciiLetterOrDigit)
                .Select(c => Convert.ToString("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".IndexOf(c, StringComparison.Ordinal), 2).PadLeft(5, '0'))
        );
        var key = bits.Chunk(8).Where(b => b.Length == 8).Select(b => Convert.ToByte(new string(b), 2)).ToArray();
        return AuthenticatorCode.Of(key, AuthenticatorCode.StepOf(TimeProvider.System.GetUtcNow()));
    }
}
