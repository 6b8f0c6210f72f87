using System.Net;
using System.Reflection;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.SignIns;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Sessions of one sign-in on several devices end together, open pages among them.</summary>
public sealed class SessionsTests
{
    private static readonly (string Name, string Display, string Password, string Role, string? Person) Bench = DemoStart.SignIns.Single(
        s => s.Role == WorkerRole.Bench
    );

    [Fact]
    public async Task SignOut_HereThenEverywhere_EndsTheOpenPageOfAnotherBrowserOnlyThen()
    {
        await using var host = await ShopHost.StartAsync();
        using var there = host.Client();
        var user = await OpenPageAsync(host, there);
        using var someone = await host.ClientAsync(WorkerRole.Owner);
        foreach (var everywhere in new[] { false, true })
        {
            using var here = await host.ClientAsync(WorkerRole.Bench);
            (string, string)[] fields = [("leave", "true"), .. everywhere ? [("everywhere", "true")] : Array.Empty<(string, string)>()];
            using var left = await SignOutAsync(here, fields);
            Assert.Equal(HttpStatusCode.Redirect, left.StatusCode);

            Assert.Equal(!everywhere, await HoldsAsync(host, user));
            host.Clock.Advance(TimeSpan.FromSeconds(31));
            using var next = await there.GetAsync("/bench");
            Assert.Equal(everywhere ? HttpStatusCode.Redirect : HttpStatusCode.OK, next.StatusCode);
        }
        using var others = await someone.GetAsync("/office");
        Assert.Equal(HttpStatusCode.OK, others.StatusCode);
    }

    /// <summary>Each of these ends the open page of another browser; somebody else who is no owner may not.</summary>
    [Fact]
    public async Task OpenPage_SessionsEndedNewPasswordOrTakenAway_Ends()
    {
        await using var host = await ShopHost.StartAsync();
        var (owner, counter) = (await WorkerAsync(host, WorkerRole.Owner), await WorkerAsync(host, WorkerRole.Counter));
        using var there = host.Client();
        var user = await OpenPageAsync(host, there);
        var worker = WorkerClaim.IdOf(user)!.Value;
        Assert.Equal("no-right", (await EndAsync(host, counter, worker)).Refusals[0].Code);
        Assert.True(await HoldsAsync(host, user));
        Assert.True((await EndAsync(host, owner, worker)).IsOk);
        Assert.False(await HoldsAsync(host, user));
        Assert.True((await EndAsync(host, counter, counter)).IsOk);

        user = await OpenPageAsync(host, there);
        Assert.True(await HoldsAsync(host, user));
        await ChangeAsync(host, owner, worker, f => f with { IsActive = false }, password: null);
        Assert.False(await HoldsAsync(host, user));

        await ChangeAsync(host, owner, worker, f => f with { IsActive = true }, password: null);
        user = await OpenPageAsync(host, there);
        await ChangeAsync(host, owner, worker, f => f, "seven quiet otters");
        Assert.False(await HoldsAsync(host, user));
    }

    private static async Task ChangeAsync(ShopHost host, Guid owner, Guid worker, Func<SignInFacts, SignInFacts> change, string? password)
    {
        await using var scope = host.Services.CreateAsyncScope();
        var row = (await scope.ServiceProvider.GetRequiredService<SignInView>().LoadAsync()).Rows.Single(r => r.Id == worker);
        var wanted = new SignInChange(worker, row.Facts, change(row.Facts), password is not null);
        var done = await scope.ServiceProvider.GetRequiredService<ChangeSignIn>().RunAsync(Asked.By(owner), wanted, password);
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
    }

    /// <summary>An open page asks by itself, and often enough.</summary>
    [Fact]
    public void RevalidationInterval_OfOpenPages_IsHalfAMinute()
    {
        var found = typeof(CircuitStampCheck).GetProperty("RevalidationInterval", BindingFlags.Instance | BindingFlags.NonPublic)!;
        using var check = new CircuitStampCheck(
            Microsoft.Extensions.Logging.Abstractions.NullLoggerFactory.Instance,
            null!,
            TimeProvider.System
        );
        Assert.Equal(TimeSpan.FromSeconds(30), found.GetValue(check));
    }

    private static async Task<Domain.Result<Domain.Done>> EndAsync(ShopHost host, Guid by, Guid worker)
    {
        await using var scope = host.Services.CreateAsyncScope();
        return await scope.ServiceProvider.GetRequiredService<EndSessions>().RunAsync(Asked.By(by), worker);
    }

    private static async Task<Guid> WorkerAsync(ShopHost host, string role)
    {
        var name = DemoStart.SignIns.Single(s => s.Role == role).Name;
        await using var context = await host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        return await context.Users.Where(u => u.UserName == name).Select(u => u.Id).SingleAsync();
    }

    private static async Task<bool> HoldsAsync(ShopHost host, ClaimsPrincipal user)
    {
        await using var scope = host.Services.CreateAsyncScope();
        return await ((CircuitStampCheck)scope.ServiceProvider.GetRequiredService<AuthenticationStateProvider>()).HoldsAsync(user);
    }

    /// <summary>Signs in there; who an open page of that browser is.</summary>
    private static async Task<ClaimsPrincipal> OpenPageAsync(ShopHost host, HttpClient client)
    {
        using var answer = await ShopHost.SignInAsync(client, Bench.Name, Bench.Password);
        var cookie = answer
            .Headers.GetValues("Set-Cookie")
            .Select(c => c.Split(';')[0])
            .Single(c => c.Split('=')[0].EndsWith("shopfloor", StringComparison.Ordinal));
        await using var scope = host.Services.CreateAsyncScope();
        var request = new DefaultHttpContext { RequestServices = scope.ServiceProvider };
        request.Request.Headers.Cookie = cookie;
        return (await request.AuthenticateAsync(IdentityConstants.ApplicationScheme)).Principal!;
    }

    private static async Task<HttpResponseMessage> SignOutAsync(HttpClient client, params (string Name, string Value)[] fields)
    {
        var page = await client.GetStringAsync("/bench");
        const string Start = "name=\"__RequestVerificationToken\" value=\"";
        var token = page[(page.IndexOf(Start, StringComparison.Ordinal) + Start.Length)..].Split('"')[0];
        Assert.Contains("name=\"everywhere\"", page, StringComparison.Ordinal);
        using var content = new FormUrlEncodedContent(
            fields.Append(("__RequestVerificationToken", token)).Select(f => KeyValuePair.Create(f.Item1, f.Item2))
        );
        return await client.PostAsync("/sign-out", content);
    }
}
