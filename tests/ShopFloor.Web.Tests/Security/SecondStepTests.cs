using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Security;
using ShopFloor.Web.Security.SecondSteps;

namespace ShopFloor.Web.Tests.Security;

/// <summary>The second step over HTTP: switched on with the app, asked for after the password, by the rules of passwords.</summary>
public sealed partial class SecondStepTests
{
    private const string Own = SecuritySetUp.OwnPath;
    private const string CodePath = "/sign-in/code";
    private static readonly byte[] Key = Encoding.ASCII.GetBytes("12345678901234567890");
    private static readonly (string Name, string Display, string Password, string Role, string? Person) Owner = DemoStart.SignIns.Single(
        s => s.Role == WorkerRole.Owner
    );

    [Fact]
    public async Task SwitchOn_WithTheAppsCode_ShowsRecoveryCodesOnceAndEndsOtherSessions()
    {
        await using var host = await ShopHost.StartAsync();
        using var here = await host.ClientAsync(WorkerRole.Owner);
        using var there = await host.ClientAsync(WorkerRole.Owner);
        var page = await here.GetStringAsync(Own);
        var (underway, key) = (Hidden().Match(page).Groups["value"].Value, Bytes(Shown().Match(page).Groups["key"].Value));
        using var wrong = await ShopHost.PostAsync(here, Own, "second-on", ("Underway", underway), ("AppCode", "12345"));
        Assert.Contains("This code does not fit.", await wrong.Content.ReadAsStringAsync(), StringComparison.Ordinal);

        var code = AuthenticatorCode.Of(key, AuthenticatorCode.StepOf(host.Clock.GetUtcNow()));
        using var on = await ShopHost.PostAsync(here, Own, "second-on", ("Underway", underway), ("AppCode", code));
        var shown = Recovery().Matches(await on.Content.ReadAsStringAsync());
        Assert.Equal(RecoveryCodes.Count, shown.Count);
        Assert.DoesNotContain(shown[0].Groups["code"].Value, await here.GetStringAsync(Own), StringComparison.Ordinal);
        host.Clock.Advance(TimeSpan.FromSeconds(31));
        Assert.Equal(HttpStatusCode.Redirect, (await there.GetAsync("/office")).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/office")).StatusCode);

        await using var context = await host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        var kept = await context.UserTokens.Select(t => t.Value).ToListAsync();
        var secret = Convert.ToBase64String(key);
        Assert.DoesNotContain(
            kept,
            v => v!.Contains(secret, StringComparison.Ordinal) || v.Contains(shown[0].Groups["code"].Value, StringComparison.Ordinal)
        );
        Assert.DoesNotContain(
            await context.Commands.ToListAsync(),
            c => c.ResultJson.Contains(shown[0].Groups["code"].Value, StringComparison.Ordinal)
        );
    }

    [Fact]
    public async Task SignIn_PasswordThenCode_OpensOnlyWithBothAndEachCodeIsGoodOnce()
    {
        await using var host = await ShopHost.StartAsync();
        var codes = await OnAsync(host);
        using var here = host.Client();
        await PasswordAsync(here);
        Assert.Equal(HttpStatusCode.Redirect, (await here.GetAsync("/office")).StatusCode);
        var code = AuthenticatorCode.Of(Key, AuthenticatorCode.StepOf(host.Clock.GetUtcNow()));
        using var good = await ShopHost.PostAsync(here, CodePath, "code", ("Code", code));
        Assert.Equal(HttpStatusCode.Redirect, good.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/office")).StatusCode);

        using var again = host.Client();
        await PasswordAsync(again);
        using var used = await ShopHost.PostAsync(again, CodePath, "code", ("Code", code));
        Assert.Contains("This code does not fit.", await used.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        foreach (var isFirst in new[] { true, false })
        {
            await PasswordAsync(again);
            using var recovery = await ShopHost.PostAsync(again, CodePath, "code", ("Code", codes[0]));
            Assert.Equal(isFirst ? HttpStatusCode.Redirect : HttpStatusCode.OK, recovery.StatusCode);
        }
        var log = await LogAsync(host);
        Assert.Contains(log, e => e is { What: "sign-in, first step", IsGood: true });
        Assert.Contains(log, e => e is { What: "sign-in, second step", IsGood: true });
        Assert.Contains(log, e => e is { What: "sign-in, second step", IsGood: false });
        Assert.Contains(log, e => e is { What: "second step switched on", IsGood: true });
    }

    [Fact]
    public async Task SignIn_FiveWrongCodes_RestForPasswordAndCodeThoughThePasswordWasRightBetween()
    {
        await using var host = await ShopHost.StartAsync();
        var codes = await OnAsync(host);
        using var here = host.Client();
        for (var n = 0; n < 5; n++)
        {
            await PasswordAsync(here);
            using var wrong = await ShopHost.PostAsync(here, CodePath, "code", ("Code", "000000"));
            Assert.Contains("This code does not fit.", await wrong.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }
        using var late = await ShopHost.PostAsync(here, CodePath, "code", ("Code", codes[0]));
        Assert.Equal(HttpStatusCode.OK, late.StatusCode);
        using var password = await ShopHost.SignInAsync(here, Owner.Name, Owner.Password);
        Assert.Contains("do not fit", await password.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Contains(await LogAsync(host), e => e is { What: "sign-in, second step while resting", IsGood: false });
    }

    [Fact]
    public async Task SignIn_CodeAfterFiveMinutesOrAfterSessionsEnded_BeginsAgain()
    {
        await using var host = await ShopHost.StartAsync();
        var codes = await OnAsync(host);
        using var here = host.Client();
        await PasswordAsync(here);
        var token = await here.GetStringAsync(CodePath);
        Assert.Contains("name=\"Code\"", token, StringComparison.Ordinal);
        host.Clock.Advance(TimeSpan.FromMinutes(6));
        Assert.Contains("That took too long.", await here.GetStringAsync(CodePath), StringComparison.Ordinal);

        await PasswordAsync(here);
        await using (var scope = host.Services.CreateAsyncScope())
        {
            var owner = await OwnerAsync(host);
            var end = scope.ServiceProvider.GetRequiredService<Web.Office.SignIns.EndSessions>();
            Assert.True((await end.RunAsync(Asked.By(owner), owner)).IsOk);
        }
        using var late = await ShopHost.PostAsync(here, CodePath, "code", ("Code", codes[0]));
        Assert.Contains("That took too long.", await late.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SwitchOff_ByOthers_IsTheOwnersAlone()
    {
        await using var host = await ShopHost.StartAsync();
        await OnAsync(host);
        await using var scope = host.Services.CreateAsyncScope();
        var off = scope.ServiceProvider.GetRequiredService<SwitchOffSecondStep>();
        var owner = await OwnerAsync(host);
        var bench = await WorkerAsync(host, WorkerRole.Bench);
        Assert.Equal("no-right", (await off.RunAsync(Asked.By(bench), owner)).Refusals[0].Code);
        Assert.True((await off.RunAsync(Asked.By(owner), owner)).IsOk);
        using var here = await host.ClientAsync(WorkerRole.Owner);
        Assert.Equal(HttpStatusCode.OK, (await here.GetAsync("/office")).StatusCode);
    }

    private static async Task<IReadOnlyList<string>> OnAsync(ShopHost host)
    {
        await using var scope = host.Services.CreateAsyncScope();
        var made = new NewSecondStep(Key, 0, RecoveryCodes.Make());
        var on = scope.ServiceProvider.GetRequiredService<SwitchOnSecondStep>();
        Assert.True((await on.RunAsync(Asked.By(await OwnerAsync(host)), made)).IsOk);
        return made.Codes;
    }

    private static async Task PasswordAsync(HttpClient client)
    {
        using var answer = await ShopHost.SignInAsync(client, Owner.Name, Owner.Password);
        Assert.Contains(CodePath[1..], answer.Headers.Location?.ToString() ?? "", StringComparison.Ordinal);
    }

    private static Task<Guid> OwnerAsync(ShopHost host) => WorkerAsync(host, WorkerRole.Owner);

    private static async Task<Guid> WorkerAsync(ShopHost host, string role)
    {
        var name = DemoStart.SignIns.Single(s => s.Role == role).Name;
        await using var context = await host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        return await context.Users.Where(u => u.UserName == name).Select(u => u.Id).SingleAsync();
    }

    private static async Task<IReadOnlyList<SecurityEvent>> LogAsync(ShopHost host)
    {
        await using var context = await host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        return await context.SecurityEvents.AsNoTracking().ToListAsync();
    }

    /// <summary>What the app makes of the key that is shown.</summary>
    private static byte[] Bytes(string shown)
    {
        var bits = string.Concat(
            shown
                .Where(char.IsAsciiLetterOrDigit)
                .Select(c => Convert.ToString("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567".IndexOf(c, StringComparison.Ordinal), 2).PadLeft(5, '0'))
        );
        return [.. bits.Chunk(8).Where(b => b.Length == 8).Select(b => Convert.ToByte(new string(b), 2))];
    }

    [GeneratedRegex("name=\"Underway\" value=\"(?<value>[^\"]+)", RegexOptions.None, 1000)]
    private static partial Regex Hidden();

    [GeneratedRegex("<code data-key>(?<key>[^<]+)", RegexOptions.None, 1000)]
    private static partial Regex Shown();

    [GeneratedRegex("<li><code>(?<code>[^<]+)", RegexOptions.None, 1000)]
    private static partial Regex Recovery();
}
