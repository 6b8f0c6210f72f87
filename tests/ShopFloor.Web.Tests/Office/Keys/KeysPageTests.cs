using Bunit;
using Bunit.TestDoubles;
using ShopFloor.Data;
using ShopFloor.Web.Api;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Keys;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Keys;

/// <summary>The list of keys says in words what each may do, and asks before one is taken away for good.</summary>
public sealed class KeysPageTests
{
    [Fact]
    public async Task TakeAway_AskedFirst_TakesTheNamedKeyOnlyWhenConfirmed()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        foreach (var name in (string[])["Till", "Web shop"])
            Assert.True((await shop.Get<MakeKey>().RunAsync(Asked.By(owner), new KeyInput(name, [ApiScopes.PlanOut]))).IsOk);
        await using var page = Page(shop);
        var open = Open(page, owner);
        var till = open.FindAll("tbody tr").Single(r => r.TextContent.Contains("Till", StringComparison.Ordinal));

        await till.QuerySelector("button")!.ClickAsync();

        var asked = open.FindComponent<Stub<ConfirmNamed>>().Instance.Parameters;
        Assert.Equal((true, "Take away “Till”?"), (asked.Get(p => p.Open), asked.Get(p => p.Title)));
        Assert.All(await shop.Get<KeyView>().LoadAsync(), k => Assert.Null(k.RevokedAt));
        await open.InvokeAsync(() => asked.Get(p => p.OpenChanged).InvokeAsync(false));
        Assert.All(await shop.Get<KeyView>().LoadAsync(), k => Assert.Null(k.RevokedAt));
        await open.InvokeAsync(() => asked.Get(p => p.OnConfirm).InvokeAsync());
        var gone = Assert.Single(await shop.Get<KeyView>().LoadAsync(), k => k.RevokedAt is not null);
        Assert.Equal("Till", gone.Name);
    }

    [Fact]
    public async Task List_OfAKey_SaysInWordsWhatItMay()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var every = new KeyInput("Web shop", ApiScopes.OfPrograms);
        Assert.True((await shop.Get<MakeKey>().RunAsync(Asked.By(owner), every)).IsOk);
        Assert.True((await shop.Get<MakeKey>().RunAsync(Asked.By(owner), new KeyInput("Wall", [ApiScopes.Calendar]))).IsOk);
        await using var page = Page(shop);

        var list = Open(page, owner).Find("tbody").TextContent;

        foreach (var scope in ApiScopes.OfPrograms.Append(ApiScopes.Calendar))
        {
            Assert.Contains(KeyWords.Of(scope), list, StringComparison.Ordinal);
            Assert.NotEqual(scope, KeyWords.Of(scope));
        }
        Assert.DoesNotContain(ApiScopes.OrdersIn, list, StringComparison.Ordinal);
    }

    private static BunitContext Page(TestShop shop)
    {
        var page = TestPage.Of(shop);
        page.ComponentFactories.AddStub<LiveRefresh>();
        page.ComponentFactories.AddStub<ConfirmNamed>();
        return page;
    }

    private static IRenderedComponent<KeysPage> Open(BunitContext page, Guid owner)
    {
        var open = page.Render<KeysPage>(p => p.AddCascadingValue(TestPage.Session(owner)));
        open.WaitForElement("tbody button");
        return open;
    }
}
