using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Security.Passkeys;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Keeping, naming and taking away passkeys, and the name that they are bound to.</summary>
public sealed class PasskeyChangeTests
{
    [Fact]
    public async Task Keep_TheEleventhOrOneThatIsThere_IsRefused()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (worker, other) = (await shop.WorkerAsync(WorkerRole.Counter), await shop.WorkerAsync(WorkerRole.Bench));
        Assert.True((await KeepAsync(shop, other, 0)).IsOk);
        Assert.Equal("passkey-there", (await KeepAsync(shop, worker, 0)).Refusals[0].Code);
        for (byte n = 1; n <= 10; n++)
            Assert.True((await KeepAsync(shop, worker, n)).IsOk);
        Assert.Equal("passkey-many", (await KeepAsync(shop, worker, 11)).Refusals[0].Code);
        Assert.Equal(10, (await shop.Get<PasskeyView>().LoadAsync(worker)).Count);
        Assert.True((await KeepAsync(shop, other, 11)).IsOk);
    }

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData("a\nb")]
    [InlineData("123456789012345678901234567890123456789012345678901")]
    public async Task KeepAndName_NameThatIsNone_IsRefusedBesideItsField(string name)
    {
        await using var shop = await TestShop.EmptyAsync();
        var worker = await shop.WorkerAsync(WorkerRole.Bench);
        Assert.Equal("PasskeyName", (await KeepAsync(shop, worker, 1, name)).Refusals[0].Field);
        await KeepAsync(shop, worker, 1);
        var row = Assert.Single(await shop.Get<PasskeyView>().LoadAsync(worker));
        var named = await shop.Get<NamePasskey>().RunAsync(Asked.By(worker), new NewPasskey(name, row.Key));
        Assert.Equal("OtherName", named.Refusals[0].Field);
    }

    [Fact]
    public async Task Name_OwnAndAnothers_OnlyTheOwnIsFound()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (worker, owner) = (await shop.WorkerAsync(WorkerRole.Bench), await shop.WorkerAsync(WorkerRole.Owner));
        await KeepAsync(shop, worker, 1);
        var key = (await shop.Get<PasskeyView>().LoadAsync(worker))[0].Key;
        Assert.Equal(
            "passkey-missing",
            (await shop.Get<NamePasskey>().RunAsync(Asked.By(owner), new NewPasskey("mine", key))).Refusals[0].Code
        );
        Assert.True((await shop.Get<NamePasskey>().RunAsync(Asked.By(worker), new NewPasskey(" tablet ", key))).IsOk);
        Assert.Equal("tablet", (await shop.Get<PasskeyView>().LoadAsync(worker))[0].Name);
    }

    [Fact]
    public async Task Take_ByTheOwnerOrOneself_EndsTheSessionsOthersMayNot()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (worker, owner) = (await shop.WorkerAsync(WorkerRole.Bench), await shop.WorkerAsync(WorkerRole.Owner));
        var other = await shop.WorkerAsync(WorkerRole.Counter);
        foreach (var by in new[] { worker, owner })
        {
            await KeepAsync(shop, worker, 1);
            var lost = new LostPasskey(worker, (await shop.Get<PasskeyView>().LoadAsync(worker))[0].Key);
            var stamp = await StampAsync(shop, worker);
            Assert.Equal("no-right", (await shop.Get<TakePasskey>().RunAsync(Asked.By(other), lost)).Refusals[0].Code);
            Assert.Equal(stamp, await StampAsync(shop, worker));
            Assert.True((await shop.Get<TakePasskey>().RunAsync(Asked.By(by), lost)).IsOk);
            Assert.NotEqual(stamp, await StampAsync(shop, worker));
            Assert.Empty(await shop.Get<PasskeyView>().LoadAsync(worker));
            Assert.Equal("passkey-missing", (await shop.Get<TakePasskey>().RunAsync(Asked.By(by), lost)).Refusals[0].Code);
        }
    }

    [Theory]
    [InlineData("", "", "desk.example", "desk.example")]
    [InlineData("", "", "Localhost", "localhost")]
    [InlineData("", "", "192.168.1.20", "")]
    [InlineData("", "", "[::1]", "")]
    [InlineData("", "https://shop.example:8443/orders", "desk.example", "shop.example")]
    [InlineData("Staff.Example", "https://shop.example", "desk.example", "staff.example")]
    public async Task Domain_IsTheOneSetElseOfTheAddressElseOfTheRequest(string set, string address, string host, string wanted)
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var profile = (await shop.Get<SettingsView>().LoadAsync()).Profile with
        {
            Name = "Hall 4",
            Country = "DE",
            PublicAddress = address,
        };
        var done = await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile);
        Assert.True(done.IsOk, string.Join(' ', done.Refusals.Select(r => r.Text)));
        var request = new DefaultHttpContext();
        request.Request.Host = new HostString(host);
        var domain = new PasskeyDomain(new HostSettings { PasskeyDomain = set }, shop.Get<SettingsView>());
        Assert.Equal(wanted, await domain.OfAsync(request));
    }

    [Theory]
    [InlineData("", true)]
    [InlineData("shop.example", true)]
    [InlineData("localhost", true)]
    [InlineData("https://shop.example", false)]
    [InlineData("shop.example:443", false)]
    [InlineData("192.168.1.20", false)]
    public void Settings_Domain_IsAName(string domain, bool isGood) =>
        Assert.Equal(isGood, new HostSettingsCheck().Validate(null, new HostSettings { PasskeyDomain = domain }).Succeeded);

    private static Task<Result<Done>> KeepAsync(TestShop shop, Guid worker, byte number, string? name = null)
    {
        var passkey = new UserPasskeyInfo([number, 200, 255], [1], DateTimeOffset.UnixEpoch, 0, null, true, false, false, [], []);
        return shop.Get<KeepPasskey>()
            .RunAsync(Asked.By(worker), name ?? "device " + number.ToString(CultureInfo.InvariantCulture), passkey);
    }

    private static async Task<string?> StampAsync(TestShop shop, Guid id)
    {
        await using var context = await shop.ContextAsync();
        return (await context.Users.SingleAsync(u => u.Id == id)).SecurityStamp;
    }
}
