using System.Net;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Signing in by passkey over HTTP, with a device in memory: the rules of passwords hold for it too.</summary>
public sealed class PasskeyTests
{
    private const string Own = SecuritySetUp.OwnPath;
    private const string Unfit = "This passkey does not fit here.";
    private static readonly (string Name, string Display, string Password, string Role, string? Person) Bench = DemoStart.SignIns.Single(
        s => s.Role == WorkerRole.Bench
    );

    [Theory]
    [InlineData(WorkerRole.Owner)]
    [InlineData(WorkerRole.Bench)]
    [InlineData(WorkerRole.Counter)]
    public async Task SignIn_WithAPasskeyAddedBefore_OpensTheProgramAndIsLoggedByIdsAlone(string role)
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, role);
        Assert.Contains("The passkey was added.", await there.GetStringAsync(Own + "?done=added"), StringComparison.Ordinal);

        using var here = Browser(host);
        using var answer = await SignInAsync(here, device);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/counter")).StatusCode);
        var log = await LogAsync(host);
        Assert.Contains(log, e => e is { What: "passkey added", IsGood: true } && e.By == e.Subject);
        Assert.Contains(log, e => e is { What: "sign-in by passkey", IsGood: true } && e.By == e.Subject);
        Assert.All(log, e => Assert.DoesNotContain(device.Key, e.What + e.By + e.Subject, StringComparison.Ordinal));
        Assert.All(log, e => Assert.DoesNotContain("own phone", e.What + e.By + e.Subject, StringComparison.Ordinal));
    }

    [Fact]
    public async Task SignIn_DeviceThatAsksForNothingOrLagsBehind_IsRefused()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, WorkerRole.Bench);
        using var here = Browser(host);
        device.Verifies = false;
        await RefusedAsync(here, device);
        device.Verifies = true;
        (await SignInAsync(here, device)).Dispose();
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/bench")).StatusCode);
        // A copy of the device that has signed less often.
        device.Count = 0;
        using var copy = Browser(host);
        await RefusedAsync(copy, device);
    }

    [Fact]
    public async Task SignIn_MadeForAnotherNameOrUnknown_IsRefusedAndLogged()
    {
        await using var host = await ShopHost.StartAsync();
        using var elsewhere = new SoftPasskey("shop.example", "http://shop.example");
        using var there = Browser(host);
        (await ShopHost.SignInAsync(there, Bench.Name, Bench.Password)).Dispose();
        var made = elsewhere.Make(await AskAsync(there, Own, "/passkey/creation"));
        using var refused = await ShopHost.PostAsync(there, Own, "add-passkey", ("Credential", made), ("PasskeyName", "phone"));
        Assert.Contains("The passkey could not be added.", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        using var here = Browser(host);
        using var stranger = new SoftPasskey();
        await RefusedAsync(here, stranger);
        var log = await LogAsync(host);
        Assert.Contains(log, e => e is { What: "passkey added", IsGood: false });
        Assert.Contains(log, e => e is { What: "sign-in by passkey", IsGood: false, By: "", Subject: "unknown passkey" });
    }

    [Fact]
    public async Task SignIn_AfterFiveWrongPasswords_RestsForPasskeysToo()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, WorkerRole.Bench);
        using var here = Browser(host);
        for (var n = 0; n < 5; n++)
            (await ShopHost.SignInAsync(here, Bench.Name, "not the right words")).Dispose();
        await RefusedAsync(here, device);
        Assert.Contains(await LogAsync(host), e => e is { What: "sign-in by passkey while resting", IsGood: false });
    }

    [Fact]
    public async Task SignIn_FiveSpoiltAnswers_CountForTheNameLikeWrongPasswords()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, WorkerRole.Bench);
        using var here = Browser(host);
        for (var n = 0; n < 4; n++)
            await RefusedAsync(here, device, spoilt: true);
        (await SignInAsync(here, device)).Dispose();
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/bench")).StatusCode);

        using var anew = Browser(host);
        for (var n = 0; n < 5; n++)
            await RefusedAsync(anew, device, spoilt: true);
        using var password = await ShopHost.SignInAsync(anew, Bench.Name, Bench.Password);
        Assert.Contains("do not fit", await password.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SignIn_OfAWorkerWhoWasTakenAway_IsRefused()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, WorkerRole.Bench);
        await using (var scope = host.Services.CreateAsyncScope())
        {
            var workers = scope.ServiceProvider.GetRequiredService<UserManager<Worker>>();
            var worker = (await workers.FindByNameAsync(Bench.Name))!;
            worker.IsActive = false;
            await workers.UpdateAsync(worker);
        }
        using var here = Browser(host);
        await RefusedAsync(here, device);
    }

    [Fact]
    public async Task SignIn_AnsweredAfterFiveMinutesOrTwice_IsRefused()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, WorkerRole.Bench);
        using var here = Browser(host);
        var late = device.Sign(await AskAsync(here, "/sign-in", "/passkey/request"));
        host.Clock.Advance(TimeSpan.FromMinutes(6));
        using var refused = await ShopHost.PostAsync(here, "/sign-in", "passkey", ("Credential", late));
        Assert.Contains("That took too long.", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        var once = device.Sign(await AskAsync(here, "/sign-in", "/passkey/request"));
        (await ShopHost.PostAsync(here, "/sign-in", "passkey", ("Credential", once))).Dispose();
        using var again = await ShopHost.PostAsync(here, "/sign-in", "passkey", ("Credential", once));
        Assert.Contains("That took too long.", await again.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SignIn_MoreThanTheLimitInAMinute_Answers429()
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:SignInsPerMinute", "3"));
        using var here = Browser(host);
        for (var n = 0; n < 3; n++)
            (await ShopHost.PostAsync(here, "/sign-in", "passkey", ("Credential", "{}"))).Dispose();
        using var answer = await ShopHost.PostAsync(here, "/sign-in", "passkey", ("Credential", "{}"));
        Assert.Equal(HttpStatusCode.TooManyRequests, answer.StatusCode);
    }

    [Theory]
    [InlineData("/passkey/request")]
    [InlineData("/passkey/creation")]
    public async Task Ask_WithoutTheFormToken_IsRefused(string path)
    {
        await using var host = await ShopHost.StartAsync();
        using var here = await host.ClientAsync(WorkerRole.Bench);
        using var form = new FormUrlEncodedContent([new("_handler", "passkey")]);
        using var answer = await here.PostAsync(path, form);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task Add_SessionOlderThanTenMinutes_WantsThePasswordFirst()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var there = await AddedAsync(host, device, WorkerRole.Bench);
        host.Clock.Advance(TimeSpan.FromMinutes(11));
        Assert.Contains("Show that it is you", await there.GetStringAsync(Own), StringComparison.Ordinal);
        using var old = await PostAskAsync(there, Own, "/passkey/creation");
        Assert.Equal(HttpStatusCode.Conflict, old.StatusCode);
        using var kept = await ShopHost.PostAsync(there, Own, "again", ("Password", "not the right words"));
        Assert.Contains("do not fit", await kept.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        using var again = await ShopHost.PostAsync(there, Own, "again", ("Password", Bench.Password));
        Assert.Equal(HttpStatusCode.Redirect, again.StatusCode);
        using var asked = await PostAskAsync(there, Own, "/passkey/creation");
        Assert.Equal(HttpStatusCode.OK, asked.StatusCode);
    }

    [Fact]
    public async Task Take_OwnPasskey_EndsTheOtherSessionsAndThisOneGoesOnToItsOwnEnd()
    {
        await using var host = await ShopHost.StartAsync();
        using var device = new SoftPasskey();
        using var here = await AddedAsync(host, device, WorkerRole.Bench);
        using var there = Browser(host);
        (await SignInAsync(there, device)).Dispose();
        host.Clock.Advance(TimeSpan.FromMinutes(5));
        using var taken = await ShopHost.PostAsync(here, Own, "take-passkey", ("Taken", device.Key));
        Assert.Equal(HttpStatusCode.Redirect, taken.StatusCode);
        host.Clock.Advance(TimeSpan.FromSeconds(31));
        Assert.Equal(HttpStatusCode.Redirect, (await there.GetAsync("/bench")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/bench")).StatusCode);
        using var anew = Browser(host);
        await RefusedAsync(anew, device);
        // Written anew, the session is no younger: it asks again and ends when it would have ended.
        host.Clock.Advance(TimeSpan.FromMinutes(6));
        Assert.Contains("Show that it is you", await here.GetStringAsync(Own), StringComparison.Ordinal);
        host.Clock.Advance(TimeSpan.FromHours(12) - TimeSpan.FromMinutes(11));
        Assert.Equal(HttpStatusCode.Redirect, (await here.GetAsync("/bench")).StatusCode);
    }

    private static HttpClient Browser(ShopHost host)
    {
        var client = host.Client();
        client.DefaultRequestHeaders.Add("Origin", "http://localhost");
        return client;
    }

    /// <summary>A browser in which somebody signed in and added the device.</summary>
    private static async Task<HttpClient> AddedAsync(ShopHost host, SoftPasskey device, string role)
    {
        var client = Browser(host);
        var worker = DemoStart.SignIns.Single(s => s.Role == role);
        (await ShopHost.SignInAsync(client, worker.Name, worker.Password)).Dispose();
        var made = device.Make(await AskAsync(client, Own, "/passkey/creation"));
        using var added = await ShopHost.PostAsync(client, Own, "add-passkey", ("Credential", made), ("PasskeyName", "own phone"));
        Assert.True(added.StatusCode == HttpStatusCode.Redirect, await added.Content.ReadAsStringAsync());
        return client;
    }

    private static async Task<HttpResponseMessage> SignInAsync(HttpClient client, SoftPasskey device, bool spoilt = false)
    {
        var signed = device.Sign(await AskAsync(client, "/sign-in", "/passkey/request"), spoilt);
        return await ShopHost.PostAsync(client, "/sign-in", "passkey", ("Credential", signed));
    }

    private static async Task RefusedAsync(HttpClient client, SoftPasskey device, bool spoilt = false)
    {
        using var answer = await SignInAsync(client, device, spoilt);
        Assert.Contains(Unfit, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static async Task<string> AskAsync(HttpClient client, string page, string path)
    {
        using var answer = await PostAskAsync(client, page, path);
        Assert.True(answer.IsSuccessStatusCode, $"{path}: {answer.StatusCode}");
        return await answer.Content.ReadAsStringAsync();
    }

    private static async Task<HttpResponseMessage> PostAskAsync(HttpClient client, string page, string path)
    {
        var token = (await client.GetStringAsync(page)).Split("name=\"__RequestVerificationToken\" value=\"")[1].Split('"')[0];
        using var form = new FormUrlEncodedContent([new("_handler", "passkey"), new("__RequestVerificationToken", token)]);
        return await client.PostAsync(path, form);
    }

    private static async Task<IReadOnlyList<SecurityEvent>> LogAsync(ShopHost host)
    {
        await using var context = await host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        return await context.SecurityEvents.AsNoTracking().ToListAsync();
    }
}
