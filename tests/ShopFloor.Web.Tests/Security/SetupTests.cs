using System.Net;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Tests.Security;

public sealed class SetupTests
{
    [Fact]
    public async Task Post_WithTheCode_MakesTheOwnerOnceAndClosesThePage()
    {
        await using var host = await ShopHost.StartAsync(signIns: false);
        var (code, _) = host.Services.GetRequiredService<SetupCode>().Make();
        using var client = host.Client();
        using (var made = await SendAsync(client, code.ToLowerInvariant(), "Zoë Ünver", "seven grey herons"))
            Assert.Equal(HttpStatusCode.Redirect, made.StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync("/office")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await client.GetAsync("/setup")).StatusCode);
        using var again = host.Client();
        Assert.Equal(HttpStatusCode.Redirect, (await ShopHost.SignInAsync(again, "zoë ünver", "seven grey herons")).StatusCode);
    }

    [Fact]
    public async Task SignIn_WhileThereIsNoOwner_SaysSoAndLeadsToTheSetUp()
    {
        await using var empty = await ShopHost.StartAsync(signIns: false);
        using var stranger = empty.Client();
        Assert.Contains("href=\"setup\"", await stranger.GetStringAsync("/sign-in"), StringComparison.Ordinal);
        await using var owned = await ShopHost.StartAsync();
        using var guest = owned.Client();
        Assert.DoesNotContain("href=\"setup\"", await guest.GetStringAsync("/sign-in"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("AAAA-AAAA-AAAA-AAAA", "seven grey herons", 0)]
    [InlineData(null, "seven grey herons", 3)]
    [InlineData(null, "short", 0)]
    [InlineData(null, "password1234", 0)]
    public async Task Post_WrongLateOrWeak_IsRefusedAndTheCodeStaysGood(string? code, string password, int hoursLater)
    {
        await using var host = await ShopHost.StartAsync(signIns: false);
        var (good, _) = host.Services.GetRequiredService<SetupCode>().Make();
        host.Clock.Advance(TimeSpan.FromHours(hoursLater));
        using var client = host.Client();
        using var answer = await SendAsync(client, code ?? good, "Owner", password);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("class=\"faults\"", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(hoursLater == 0, host.Services.GetRequiredService<SetupCode>().IsGood(good));
    }

    [Fact]
    public async Task Make_Again_TheOldCodeIsDead()
    {
        await using var host = await ShopHost.StartAsync(signIns: false);
        var codes = host.Services.GetRequiredService<SetupCode>();
        var (old, _) = codes.Make();
        var (good, _) = codes.Make();
        Assert.False(codes.IsGood(old));
        Assert.True(codes.IsGood(good));
    }

    private static Task<HttpResponseMessage> SendAsync(HttpClient client, string code, string name, string password) =>
        ShopHost.PostAsync(client, "/setup", "setup", ("Code", code), ("Name", name), ("Password", password));
}
