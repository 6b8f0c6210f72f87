using System.Net;
using Microsoft.AspNetCore.RateLimiting;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Who asks too often is told so in plain words, and others go on.</summary>
public sealed class RequestLimitTests
{
    [Theory]
    [InlineData("/sign-in")]
    [InlineData("/status/000000000000000000000000000000000000000000000001")]
    [InlineData("/status/000000000000000000000000000000000000000000000001/picture/1")]
    [InlineData("/p/000000000000000000000000000000000000000000000001")]
    [InlineData("/calendar/000000000000000000000000000000000000000000000001.ics")]
    public async Task Get_WithoutASignInTooOften_IsRefusedInPlainWords(string path)
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:LinkCallsPerMinute", "3"));
        using var client = host.Client();
        for (var n = 0; n < 3; n++)
            Assert.NotEqual(HttpStatusCode.TooManyRequests, (await client.GetAsync(path)).StatusCode);
        using var refused = await client.GetAsync(path);
        Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
        Assert.Equal(RequestLimits.Words, await refused.Content.ReadAsStringAsync());
        Assert.Equal(TimeSpan.FromSeconds(60), refused.Headers.RetryAfter!.Delta);
    }

    [Fact]
    public async Task Get_OnAGermanPhone_IsRefusedInGerman()
    {
        const string Page = "/status/000000000000000000000000000000000000000000000001";
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:LinkCallsPerMinute", "1"));
        using var client = host.Client();
        client.DefaultRequestHeaders.AcceptLanguage.ParseAdd("de");
        (await client.GetAsync(Page)).Dispose();
        using var refused = await client.GetAsync(Page);
        Assert.Contains("Warten Sie eine Minute", await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Post_FilesTooOften_IsRefusedInWordsForTheScript()
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:UploadsPerMinute", "2"));
        using var client = await host.ClientAsync(WorkerRole.Counter);
        client.DefaultRequestHeaders.Accept.Clear();
        async Task<HttpResponseMessage> SendAsync()
        {
            using var file = new ByteArrayContent([1, 2, 3]);
            return await client.PostAsync($"/uploads/{Guid.NewGuid()}/{Guid.NewGuid()}", file);
        }
        for (var n = 0; n < 2; n++)
            Assert.NotEqual(HttpStatusCode.TooManyRequests, (await SendAsync()).StatusCode);
        using var refused = await SendAsync();
        Assert.Equal(HttpStatusCode.TooManyRequests, refused.StatusCode);
        Assert.Equal("application/json", refused.Content.Headers.ContentType!.MediaType);
        Assert.Contains(RequestLimits.Words, await refused.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        using var page = await client.GetAsync("/counter");
        Assert.NotEqual(HttpStatusCode.TooManyRequests, page.StatusCode);
    }

    /// <summary>Whatever takes a file in has its limit.</summary>
    [Theory]
    [InlineData("/uploads/{draft:guid}/{id:guid}")]
    [InlineData("/counter/order/{draft:guid}/pictures")]
    [InlineData("/p/{token}/picture")]
    [InlineData("/office/bank")]
    [InlineData("/office/exchange/import")]
    public async Task Endpoint_ThatTakesAFile_IsLimited(string pattern)
    {
        await using var host = await ShopHost.StartAsync(signIns: false);
        var found = host
            .Services.GetRequiredService<EndpointDataSource>()
            .Endpoints.OfType<RouteEndpoint>()
            .Where(e => $"/{e.RoutePattern.RawText!.TrimStart('/')}" == pattern)
            .ToList();
        Assert.NotEmpty(found);
        Assert.All(found, e => Assert.Equal(RequestLimits.Uploads, e.Metadata.GetMetadata<EnableRateLimitingAttribute>()?.PolicyName));
    }
}
