using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Counter;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Security;

/// <summary>While nothing can be written people get in and data gets out, and what cannot be done says why; a tap is judged by who made it.</summary>
public sealed class HeldDatabaseTests
{
    [Fact]
    public async Task SignIn_NothingCanBeWritten_GoesAllTheSame()
    {
        await using var host = await ShopHost.StartAsync();
        var (name, _, password, _, _) = DemoStart.SignIns.Single(s => s.Role == WorkerRole.Owner);
        using var owner = host.Client();
        // One try is counted already, and is to be forgotten by the good one.
        using (await ShopHost.SignInAsync(owner, name, "not the password"))
        using (Hold(host))
        {
            using var wrong = await ShopHost.SignInAsync(owner, name, "not the password");
            Assert.Equal(HttpStatusCode.OK, wrong.StatusCode);
            using var right = await ShopHost.SignInAsync(owner, name, password);
            Assert.Equal(HttpStatusCode.Redirect, right.StatusCode);
        }
    }

    [Theory]
    [InlineData("/office/exchange/everything.zip")]
    [InlineData("/office/exchange/customers.csv")]
    [InlineData("/office/books/2026-03.zip")]
    public async Task Export_NothingCanBeWritten_GoesAllTheSame(string path)
    {
        await using var host = await ShopHost.StartAsync();
        using var owner = await host.ClientAsync(WorkerRole.Owner);
        using var held = Hold(host);
        using var answer = await owner.GetAsync(path);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Fact]
    public async Task NewOrder_NothingCanBeWritten_SaysWhyOnTheFirstPage()
    {
        await using var host = await ShopHost.StartAsync();
        using var tablet = await host.ClientAsync(WorkerRole.Counter);
        var token = await CounterHost.TokenAsync(tablet, "/counter");
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string> { ["__RequestVerificationToken"] = token, ["own"] = "true" }
        );
        using var held = Hold(host);
        using var answer = await tablet.PostAsync("/counter/begin", form);
        Assert.Equal("/counter?fault=cannot-write", answer.Headers.Location?.OriginalString);
        var page = await tablet.GetStringAsync(answer.Headers.Location);
        Assert.Contains("The database cannot be written just now", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Tap_NothingCanBeWritten_IsAskedForAgain()
    {
        await using var host = await ShopHost.StartAsync();
        using var bench = await host.ClientAsync(WorkerRole.Bench);
        using var tap = await TapAsync(bench, "");
        using var held = Hold(host);
        using var answer = await bench.SendAsync(tap);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.StatusCode);
        Assert.Contains("cannot be written just now", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("1000000000000000000")]
    [InlineData("-1000000000000000000")]
    public async Task Tap_AtAnImpossibleTime_IsAnswered(string at)
    {
        await using var host = await ShopHost.StartAsync();
        using var bench = await host.ClientAsync(WorkerRole.Bench);
        using var tap = await TapAsync(bench, $", \"tappedAt\": {at}");
        using var answer = await bench.SendAsync(tap);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Fact]
    public async Task Tap_OfSomebodyElse_IsNotDone()
    {
        await using var host = await ShopHost.StartAsync();
        using var bench = await host.ClientAsync(WorkerRole.Bench);
        var me = Regex.Match(
            await bench.GetStringAsync("/bench"),
            "data-worker=\"(?<id>[^\"]+)",
            RegexOptions.None,
            TimeSpan.FromSeconds(5)
        );
        using var theirs = await TapAsync(bench, $", \"worker\": \"{Guid.CreateVersion7()}\"");
        using var no = await bench.SendAsync(theirs);
        Assert.Equal(HttpStatusCode.Conflict, no.StatusCode);
        using var mine = await TapAsync(bench, $", \"worker\": \"{me.Groups["id"].Value}\"");
        using var yes = await bench.SendAsync(mine);
        Assert.Equal(HttpStatusCode.OK, yes.StatusCode);
    }

    [Theory]
    [InlineData("", "\"cache\", \"storage\"")]
    [InlineData("true", "\"cache\"")]
    public async Task SignOut_TapsWait_LeavesTheStoreToThePage(string keep, string cleared)
    {
        await using var host = await ShopHost.StartAsync();
        using var bench = await host.ClientAsync(WorkerRole.Bench);
        using var form = new FormUrlEncodedContent(
            new Dictionary<string, string>
            {
                ["__RequestVerificationToken"] = await CounterHost.TokenAsync(bench, "/bench"),
                ["leave"] = "true",
                ["keep"] = keep,
            }
        );
        using var answer = await bench.PostAsync("/sign-out", form);
        Assert.Equal(cleared, string.Join(", ", answer.Headers.GetValues("Clear-Site-Data")));
    }

    private static HeldDatabase Hold(ShopHost host) => new(host.Services.GetRequiredService<HostSettings>().DataFolder);

    private static async Task<HttpRequestMessage> TapAsync(HttpClient client, string more)
    {
        var request = new HttpRequestMessage(HttpMethod.Post, "/bench/moves")
        {
            Content = new StringContent(
                $$"""{ "command": "{{Guid.CreateVersion7()}}", "move": "start", "code": "K3F7QX"{{more}} }""",
                Encoding.UTF8,
                "application/json"
            ),
        };
        request.Headers.Add("RequestVerificationToken", await CounterHost.TokenAsync(client, "/bench"));
        return request;
    }
}
