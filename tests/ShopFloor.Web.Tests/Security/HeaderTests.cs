using System.Net;

namespace ShopFloor.Web.Tests.Security;

public sealed class HeaderTests
{
    [Fact]
    public async Task Get_APage_CarriesTheStrictPolicyAndNoInlineScriptOrStyle()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        using var answer = await client.GetAsync("/sign-in");
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("script-src 'self';", policy, StringComparison.Ordinal);
        Assert.Contains("style-src-elem 'self';", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.Equal(
            "'unsafe-inline'",
            Assert.Single(policy.Split(' '), word => word.Contains("unsafe", StringComparison.Ordinal)).TrimEnd(';')
        );
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
        Assert.False(answer.Headers.Contains("Server"));
        var page = await answer.Content.ReadAsStringAsync();
        Assert.DoesNotContain("<style", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotMatch("<script(?![^>]*src=)", page);
        Assert.DoesNotMatch("(src|href)=\"(https?:)?//", page);
    }

    [Theory]
    [InlineData("true", "https://localhost", "__Host-shopfloor", true)]
    [InlineData("false", "http://localhost", "shopfloor", false)]
    public async Task SignIn_Cookie_IsBoundToHttpsWhereItCan(string https, string address, string name, bool secure)
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:Https", https));
        using var client = host.Client(address);
        using var answer = await ShopHost.SignInAsync(client, "owner", "moorlight owner");
        var cookie = Assert.Single(answer.Headers.GetValues("Set-Cookie"), c => c.StartsWith(name + "=", StringComparison.Ordinal));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("path=/", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(secure, cookie.Contains("secure", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task Post_FromAnotherSite_IsRefusedBeforeItIsRead()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        using var request = new HttpRequestMessage(HttpMethod.Post, "/sign-in");
        request.Headers.Add("Sec-Fetch-Site", "cross-site");
        using var answer = await client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task Health_Asked_AnswersOneWord()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        Assert.Equal("Healthy", await client.GetStringAsync("/health/live"));
        Assert.Equal("Healthy", await client.GetStringAsync("/health/ready"));
    }
}
