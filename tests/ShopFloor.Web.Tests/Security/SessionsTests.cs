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

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task SignOut_HereOrEverywhere_EndsTheOpenPageOfAnotherBrowserOnlyThen(bool everywhere)
    {
        await using var host = await ShopHost.StartAsync();
        using var here = await host.ClientAsync(WorkerRole.Bench);
        using var there = host.Client();
        var user = await OpenPageAsync(host, there);
        using var someone = await host.ClientAsync(WorkerRole.Owner);

        (string, string)[] fields = [("leave", "true"), .. everywhere ? [("everywhere", "true")] : Array.Empty<(string, string)>()];
        using var left = await SignOutAsync(here, fields);
        Assert.Equal(HttpStatusCode.Redirect, left.StatusCode);

        Assert.Equal(!everywhere, await HoldsAsync(host, user));
        host.Clock.Advance(TimeSpan.FromSeconds(31));
        using var next = await there.GetAsync("/bench");
        Assert.Equal(everywhere ? HttpStatusCode.Redirect : HttpStatusCode.OK, next.StatusCode);
        using var others = await someone.GetAsync("/office");
        Assert.Equal(HttpStatusCode.OK, others.StatusCode);
    }

    [Fact]
    public async Task EndSessions_ByTheOwnerOrOneself_NotBySomebodyElse()
    {
        await using var host = await ShopHost.StartAsync();
        using var there = host.Client();
        var user = await OpenPageAsync(host, there);
        var worker = WorkerClaim.IdOf(user)!.Value;
        var counter = await WorkerAsync(host, WorkerRole.Counter);
        Assert.Equal("no-right", (await EndAsync(host, counter, worker)).Refusals[0].Code);
        Assert.True(await HoldsAsync(host, user));
        Assert.True((await EndAsync(host, await WorkerAsync(host, WorkerRole.Owner), worker)).IsOk);
        Assert.False(await HoldsAsync(host, user));
        Assert.True((await EndAsync(host, counter, counter)).IsOk);
    }

    [Theory]
    [InlineData("a wholly new password", true)]
    [InlineData(null, false)]
    public async Task Change_NewPasswordOrTakenAway_EndsTheOpenPage(string? password, bool active)
    {
        await using var host = await ShopHost.StartAsync();
        using var there = host.Client();
        var user = await OpenPageAsync(host, there);
        var row = (await host.Services.GetRequiredService<SignInView>().LoadAsync()).Rows.Single(r => r.Id == WorkerClaim.IdOf(user));
        var change = new SignInChange(row.Id, row.Facts with { IsActive = active }, password is not null);
        await using var scope = host.Services.CreateAsyncScope();
        var asked = Asked.By(await WorkerAsync(host, WorkerRole.Owner));
        Assert.True((await scope.ServiceProvider.GetRequiredService<ChangeSignIn>().RunAsync(asked, change, password)).IsOk);
        Assert.False(await HoldsAsync(host, user));
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
