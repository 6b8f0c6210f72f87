using System.Net;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

public sealed class SignInTests
{
    private static readonly (string Name, string Display, string Password, string Role, string? Person) Bench = DemoStart.SignIns.Single(
        s => s.Role == WorkerRole.Bench
    );

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task Post_WrongNameOrPassword_AnswersInTheSameWords(bool unknownName)
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        using var answer = await ShopHost.SignInAsync(client, unknownName ? "nobody" : Bench.Name, "not the right words");
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
        Assert.Contains("Name and password do not fit together.", page, StringComparison.Ordinal);
        Assert.Contains("value=\"" + (unknownName ? "nobody" : Bench.Name), page, StringComparison.Ordinal);
        Assert.DoesNotContain("not the right words", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Post_AfterFiveWrongTries_RefusesTheRightPasswordToo()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        for (var i = 0; i < 5; i++)
            (await ShopHost.SignInAsync(client, Bench.Name, "not the right words")).Dispose();
        using var answer = await ShopHost.SignInAsync(client, Bench.Name, Bench.Password);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("do not fit", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Run_WrongTriesAtOnce_EachCountsAndTheNameRests()
    {
        await using var host = await ShopHost.StartAsync();
        List<AsyncServiceScope> scopes = [];
        List<Task<Result<Worker>>> tries = [];
        // Whoever comes first holds the turn until all have looked the name up.
        using (await host.Services.GetRequiredService<WriteGate>().EnterAsync(default))
            for (var n = 0; n < 6; n++)
            {
                scopes.Add(host.Services.CreateAsyncScope());
                var signIn = scopes[^1].ServiceProvider.GetRequiredService<SignIn>();
                tries.Add(signIn.RunAsync(Bench.Name, n < 5 ? "not the right words" : Bench.Password, false, default));
            }
        Assert.All(await Task.WhenAll(tries), r => Assert.Equal("sign-in-unfit", Assert.Single(r.Refusals).Code));
        scopes.ForEach(s => s.Dispose());
        await using var scope = host.Services.CreateAsyncScope();
        var workers = scope.ServiceProvider.GetRequiredService<UserManager<Worker>>();
        Assert.True(await workers.IsLockedOutAsync((await workers.FindByNameAsync(Bench.Name))!));
    }

    [Theory]
    [InlineData("", "", "Enter your name.")]
    [InlineData("bench", "", "Enter your password.")]
    public async Task Post_Missing_SaysWhatIsMissing(string name, string password, string words)
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        using var answer = await ShopHost.SignInAsync(client, name, password);
        Assert.Contains(words, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Post_HundredThousandLetters_AreRefusedBeforeTheyAreHashed()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        using var answer = await ShopHost.SignInAsync(client, new string('n', 100_000), new string('p', 100_000));
        Assert.Contains("at most 128 characters", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Post_MoreThanTheLimitInAMinute_Answers429()
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:SignInsPerMinute", "3"));
        using var client = host.Client();
        for (var i = 0; i < 3; i++)
            (await ShopHost.SignInAsync(client, "nobody", "not the right words")).Dispose();
        using var answer = await ShopHost.SignInAsync(client, Bench.Name, Bench.Password);
        Assert.Equal(HttpStatusCode.TooManyRequests, answer.StatusCode);
        Assert.Contains("Wait a minute", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Post_WithoutTheFormToken_IsRefused()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        using var form = new FormUrlEncodedContent([new("_handler", "sign-in"), new("Name", Bench.Name), new("Password", Bench.Password)]);
        using var answer = await client.PostAsync("/sign-in", form);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
    }

    [Fact]
    public async Task Session_OfAWorkerSwitchedOff_EndsWithTheNextLook()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = await host.ClientAsync(WorkerRole.Bench);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/bench")).StatusCode);
        await using (var scope = host.Services.CreateAsyncScope())
        {
            var workers = scope.ServiceProvider.GetRequiredService<UserManager<Worker>>();
            var worker = (await workers.FindByNameAsync(Bench.Name))!;
            worker.IsActive = false;
            await workers.UpdateAsync(worker);
        }
        host.Clock.Advance(TimeSpan.FromSeconds(31));
        using var answer = await client.GetAsync("/bench");
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
    }

    [Fact]
    public async Task Session_NotOfTheShopsOwnScreen_EndsAfterTwelveHours()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = await host.ClientAsync(WorkerRole.Bench);
        host.Clock.Advance(TimeSpan.FromHours(11));
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/bench")).StatusCode);
        host.Clock.Advance(TimeSpan.FromHours(2));
        Assert.Equal(HttpStatusCode.Redirect, (await client.GetAsync("/bench")).StatusCode);
    }

    /// <summary>An open page sends no cookie any more: it takes along when its session ends. A screen that stays signed in goes on.</summary>
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task OpenPage_AfterTwelveHours_EndsUnlessItStaysSignedIn(bool stays)
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        (string, string)[] fields =
        [
            ("Name", Bench.Name),
            ("Password", Bench.Password),
            .. stays ? [("Stay", "true")] : Array.Empty<(string, string)>(),
        ];
        using var answer = await ShopHost.PostAsync(client, "/sign-in", "sign-in", fields);
        Assert.Equal(HttpStatusCode.Redirect, answer.StatusCode);
        var cookie = answer
            .Headers.GetValues("Set-Cookie")
            .Select(c => c.Split(';')[0])
            .Single(c => c.Split('=')[0].EndsWith("shopfloor", StringComparison.Ordinal));
        await using var scope = host.Services.CreateAsyncScope();
        var request = new DefaultHttpContext { RequestServices = scope.ServiceProvider };
        request.Request.Headers.Cookie = cookie;
        var user = (await request.AuthenticateAsync(IdentityConstants.ApplicationScheme)).Principal!;
        var page = (CircuitStampCheck)scope.ServiceProvider.GetRequiredService<AuthenticationStateProvider>();

        host.Clock.Advance(TimeSpan.FromHours(11));
        Assert.True(await page.HoldsAsync(user));
        host.Clock.Advance(TimeSpan.FromHours(2));
        Assert.Equal(stays, await page.HoldsAsync(user));
    }

    [Theory]
    [InlineData("/office/orders", "office/orders")]
    [InlineData("//evil.example", "")]
    [InlineData("/\\evil.example", "")]
    [InlineData("https://evil.example", "")]
    [InlineData("/a\\b", "")]
    [InlineData("/a\nb", "")]
    [InlineData("", "")]
    [InlineData(null, "")]
    public void LocalAddress_OfWhatWasAskedFor_StaysHere(string? to, string wanted) => Assert.Equal(wanted, LocalAddress.Of(to));
}
