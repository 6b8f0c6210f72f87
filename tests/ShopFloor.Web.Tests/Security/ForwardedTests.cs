using System.Net;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.TestHost;
using Microsoft.Extensions.DependencyInjection;

namespace ShopFloor.Web.Tests.Security;

/// <summary>What a caller says of itself counts only where a proxy that the settings name passes it on.</summary>
public sealed class ForwardedTests
{
    [Theory]
    [InlineData(null, "http://localhost/")]
    [InlineData("10.0.0.9", "http://localhost/")]
    [InlineData("127.0.0.1", "https://localhost/")]
    public async Task Get_ForwardedHostAndScheme_AreBelievedOfANamedProxyAndTheHostNever(string? proxy, string wanted)
    {
        await using var host = await StartAsync(proxy);
        var answer = await CallAsync(host, "203.0.113.1");
        Assert.StartsWith(wanted, answer, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SignIn_AnotherForwardedAddressEachTime_CountsAsOneCaller()
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:SignInsPerMinute", "3"));
        using var client = host.Client();
        for (var i = 1; i <= 4; i++)
        {
            client.DefaultRequestHeaders.Remove("X-Forwarded-For");
            client.DefaultRequestHeaders.Add("X-Forwarded-For", $"203.0.113.{i}");
            using var answer = await ShopHost.SignInAsync(client, "nobody", "not the right words");
            Assert.Equal(i > 3, answer.StatusCode == HttpStatusCode.TooManyRequests);
        }
    }

    private static Task<ShopHost> StartAsync(string? proxy) =>
        proxy is null ? ShopHost.StartAsync() : ShopHost.StartAsync(settings: ("ShopFloor:KnownProxies:0", proxy));

    // Where a page that wants a sign-in leads to, for a call that comes from this machine.
    private static async Task<string> CallAsync(ShopHost host, string caller)
    {
        var server = (TestServer)host.Services.GetRequiredService<IServer>();
        var answered = await server.SendAsync(http =>
        {
            http.Connection.RemoteIpAddress = IPAddress.Loopback;
            http.Request.Method = HttpMethods.Get;
            http.Request.Path = "/office";
            http.Request.Headers.Accept = "text/html";
            http.Request.Headers["X-Forwarded-For"] = caller;
            http.Request.Headers["X-Forwarded-Proto"] = "https";
            http.Request.Headers["X-Forwarded-Host"] = "evil.example";
        });
        return answered.Response.Headers.Location.ToString();
    }
}
