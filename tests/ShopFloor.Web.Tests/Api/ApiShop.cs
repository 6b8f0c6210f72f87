using System.Net.Http.Headers;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Keys;
using ShopFloor.Web.Tests.Security;

namespace ShopFloor.Web.Tests.Api;

/// <summary>The whole program with the demo workshop, once for a class of tests.</summary>
public sealed class ApiShop : IAsyncLifetime
{
    public ShopHost Host { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        Host = await ShopHost.StartAsync();
        await using var scope = Host.Services.CreateAsyncScope();
        Assert.True(await scope.ServiceProvider.GetRequiredService<DemoWorkshop>().RunAsync());
    }

    public async Task DisposeAsync() => await Host.DisposeAsync();

    /// <summary>A new key of the owner.</summary>
    public async Task<KeyMade> KeyAsync(params string[] scopes)
    {
        await using var scope = Host.Services.CreateAsyncScope();
        var made = await scope
            .ServiceProvider.GetRequiredService<MakeKey>()
            .RunAsync(Asked.By(await OwnerAsync()), new KeyInput("test", scopes));
        Assert.True(made.IsOk);
        return made.Value;
    }

    public async Task RevokeAsync(Guid key)
    {
        await using var scope = Host.Services.CreateAsyncScope();
        Assert.True(
            (await scope.ServiceProvider.GetRequiredService<RevokeKey>().RunAsync(Asked.By(await OwnerAsync()), new KeyWish(key))).IsOk
        );
    }

    /// <summary>A caller with a new key.</summary>
    public async Task<HttpClient> CallerAsync(params string[] scopes) => Caller((await KeyAsync(scopes)).Secret!);

    public HttpClient Caller(string secret)
    {
        var client = Host.Client();
        client.DefaultRequestHeaders.Accept.Clear();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", secret);
        return client;
    }

    public Task<ShopContext> ContextAsync() => Host.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();

    public async Task<Guid> OwnerAsync()
    {
        await using var context = await ContextAsync();
        return await context.Users.Where(u => u.UserName == "owner").Select(u => u.Id).FirstAsync();
    }
}
