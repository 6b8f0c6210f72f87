using System.Net;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Api;
using ShopFloor.Web.Tests.Security;

namespace ShopFloor.Web.Tests.Api;

/// <summary>Calls are counted by the address, and by the key once it is known to be good.</summary>
public sealed class LimitTests
{
    [Fact]
    public async Task Limit_AnotherWordEachCall_CountsForTheAddressAndNotForAKnownKey()
    {
        await using var small = await ShopHost.StartAsync(settings: ("ShopFloor:ApiCallsPerMinute", "3"));
        await AddKeyAsync(small, "good");
        using var caller = small.Client();
        async Task<HttpStatusCode> TryAsync(string authorization)
        {
            using var call = new HttpRequestMessage(HttpMethod.Get, "/api/v1/orders");
            call.Headers.TryAddWithoutValidation("Authorization", authorization);
            using var answer = await caller.SendAsync(call);
            return answer.StatusCode;
        }
        Assert.Equal(HttpStatusCode.OK, await TryAsync("Bearer good"));
        Assert.Equal(HttpStatusCode.Unauthorized, await TryAsync("Bearer one"));
        Assert.Equal(HttpStatusCode.Unauthorized, await TryAsync("Word two"));
        Assert.Equal(HttpStatusCode.TooManyRequests, await TryAsync("Bearer three"));
        Assert.Equal(HttpStatusCode.TooManyRequests, await TryAsync("Word four"));
        for (var n = 0; n < 3; n++)
            Assert.Equal(HttpStatusCode.OK, await TryAsync("Bearer good"));
        Assert.Equal(HttpStatusCode.TooManyRequests, await TryAsync("Bearer good"));
    }

    private static async Task AddKeyAsync(ShopHost host, string secret)
    {
        await using var scope = host.Services.CreateAsyncScope();
        var context = scope.ServiceProvider.GetRequiredService<ShopFloor.Data.ShopContext>();
        context.AccessKeys.Add(
            new(Guid.NewGuid(), "till", KeySecret.Hash(secret), [ApiScopes.StatusOut], Guid.NewGuid(), DateTimeOffset.UnixEpoch)
        );
        await context.SaveChangesAsync();
    }
}
