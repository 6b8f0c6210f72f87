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
    private const string Secret = "000000000000000000000000000000000000000000000001";
    private static readonly string[] WithoutASignIn =
    [
        "/sign-in",
        $"/status/{Secret}",
        $"/status/{Secret}/picture/1",
        $"/status/{Secret}/papers/{Guid.Empty}",
        $"/p/{Secret}",
        $"/calendar/{Secret}.ics",
    ];
    private static readonly string[] TakeFiles =
    [
        "uploads/{draft:guid}/{id:guid}",
        "counter/order/{draft:guid}/pictures",
        "p/{token}/picture",
        "office/bank",
        "office/exchange/import",
    ];

    [Fact]
    public async Task Get_WithoutASignInTooOften_IsRefusedInPlainWords()
    {
        await using var host = await ShopHost.StartAsync(settings: ("ShopFloor:LinkCallsPerMinute", "3"));
        using var client = host.Client();
        for (var n = 0; n < 3; n++)
            Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/sign-in")).StatusCode);
        foreach (var path in WithoutASignIn)
        {
            using var refused = await client.GetAsync(path);
            Assert.Equal((path, HttpStatusCode.TooManyRequests), (path, refused.StatusCode));
            Assert.Equal(RequestLimits.Words, await refused.Content.ReadAsStringAsync());
            Assert.Equal(TimeSpan.FromSeconds(60), refused.Headers.RetryAfter!.Delta);
        }
        client.DefaultRequestHeaders.AcceptLanguage.ParseAdd("de");
        Assert.Contains(
            "Warten Sie eine Minute",
            await (await client.GetAsync($"/status/{Secret}")).Content.ReadAsStringAsync(),
            StringComparison.Ordinal
        );
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/health/live")).StatusCode);
    }

    [Fact]
    public async Task Post_FilesTooOften_IsRefusedInWordsForTheScriptWhereverFilesAreTaken()
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

        var limited = host
            .Services.GetRequiredService<EndpointDataSource>()
            .Endpoints.OfType<RouteEndpoint>()
            .Where(e => e.Metadata.GetMetadata<EnableRateLimitingAttribute>()?.PolicyName == RequestLimits.Uploads)
            .Select(e => e.RoutePattern.RawText!.TrimStart('/'));
        Assert.Superset(TakeFiles.ToHashSet(), limited.ToHashSet());
    }
}
