using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;
using ShopFloor.Data;

namespace ShopFloor.Browser.Tests.Frame;

/// <summary>Passkeys with the browser's own virtual device, which is bound to a name: the program is opened as localhost.</summary>
[Collection(OnStage.Name)]
public sealed class PasskeyTests(Stage stage)
{
    private const string Own = "/counter/my-sign-in";
    private static readonly Dictionary<string, object> Device = new()
    {
        ["options"] = new Dictionary<string, object>
        {
            ["protocol"] = "ctap2",
            ["transport"] = "internal",
            ["hasResidentKey"] = true,
            ["hasUserVerification"] = true,
            ["isUserVerified"] = true,
            ["automaticPresenceSimulation"] = true,
        },
    };

    private string ByName => stage.App.Address.Replace("127.0.0.1", "localhost", StringComparison.Ordinal);

    [Fact]
    public async Task Passkey_AddedUsedAndTakenAway_SignsInWithoutAPasswordOnlyWhileItIsThere()
    {
        await using var visitor = await stage.VisitAsync(ByName, Screen.Phone, WorkerRole.Bench);
        var page = visitor.Page;
        var device = await page.Context.NewCDPSessionAsync(page);
        await device.SendAsync("WebAuthn.enable");
        await device.SendAsync("WebAuthn.addVirtualAuthenticator", Device);

        await visitor.GoAsync(Own);
        await page.GetByLabel("Name of the device").FillAsync("My phone");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await page.GetByText("The passkey was added.").WaitForAsync();
        Assert.Empty(await visitor.AxeAsync());
        Assert.Empty(await visitor.SmallTargetsAsync(44));
        Assert.Equal(0, await visitor.OverflowAsync());
        await visitor.ShootAsync("my-sign-in");
        // The device has one for this sign-in already.
        await page.GetByLabel("Name of the device").FillAsync("My phone again");
        await page.GetByRole(AriaRole.Button, new() { Name = "Add a passkey" }).ClickAsync();
        await page.GetByText("This device already keeps a passkey for you.").WaitForAsync();

        await page.Context.ClearCookiesAsync();
        await visitor.GoAsync("/sign-in?to=/bench");
        Assert.Empty(await visitor.AxeAsync());
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in with a passkey" }).ClickAsync();
        await page.EndsAsync("/bench");
        await visitor.ReadyAsync();

        await visitor.GoAsync(Own);
        await page.GetByRole(AriaRole.Button, new() { Name = "Take away: My phone" }).ClickAsync();
        await page.GetByText("The passkey was taken away.").WaitForAsync();
        await page.Context.ClearCookiesAsync();
        await visitor.GoAsync("/sign-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in with a passkey" }).ClickAsync();
        await page.GetByText("This passkey does not fit here.").First.WaitForAsync();
        Assert.Empty(visitor.Complaints);
    }

    [Fact]
    public async Task SignIn_DeviceGivesNothing_SaysSoAndThePasswordWorks()
    {
        await using var visitor = await stage.VisitAsync(ByName, Screen.Phone);
        var page = visitor.Page;
        // As when somebody closes the browser's question.
        await page.AddInitScriptAsync("navigator.credentials.get = () => Promise.reject(new DOMException('no', 'NotAllowedError'))");
        await visitor.GoAsync("/sign-in");
        await page.GetByRole(AriaRole.Button, new() { Name = "Sign in with a passkey" }).ClickAsync();
        await page.GetByText("The device gave no passkey. Try again.").WaitForAsync();
        await visitor.SignInAsync(WorkerRole.Bench);
        Assert.Empty(visitor.Complaints);
    }

    // An address of figures is no name, and a browser need not know passkeys.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Pages_WhereNoPasskeyCanBe_ShowNoneAndWorkAsBefore(bool byName)
    {
        await using var visitor = await stage.VisitAsync(byName ? ByName : stage.App.Address, Screen.Phone);
        var page = visitor.Page;
        if (byName)
            await page.AddInitScriptAsync("delete globalThis.PublicKeyCredential");
        await visitor.GoAsync("/sign-in");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "passkey" })).ToHaveCountAsync(0);
        await visitor.SignInAsync(WorkerRole.Counter);
        await visitor.GoAsync(Own);
        await page.GetByText("A passkey can be added where the program is opened by https").WaitForAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "passkey" })).ToHaveCountAsync(0);
        Assert.Empty(visitor.Complaints);
    }
}
