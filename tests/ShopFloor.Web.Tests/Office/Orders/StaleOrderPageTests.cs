using Bunit;
using Bunit.TestDoubles;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Costs;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>The order's page reads itself anew while somebody types or is asked: what they then send stands on what they saw.</summary>
public sealed class StaleOrderPageTests
{
    [Fact]
    public async Task Note_SavedElsewhereWhileOneIsTyped_IsNotOverwrittenUnseen()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var open = Open(shop, page);
        await open.Find("#note").ChangeAsync("Mine");
        await shop.WriteAsync(o => Assert.True(o.Write("Theirs").IsOk));
        await RefreshAsync(open);

        await NoteForm(open).SubmitAsync();

        Assert.Equal("Theirs", (await shop.OrderAsync()).Note);
        Assert.Contains("Somebody else changed", open.Find(".faults").TextContent, StringComparison.Ordinal);
        open.WaitForAssertion(() => Assert.Contains("now Theirs", open.Find("#meanwhile ~ ul").TextContent, StringComparison.Ordinal));
        Assert.Equal("Mine", open.Find("#note").GetAttribute("value"));
        await open.Find("#note").ChangeAsync("Theirs, and mine");
        await NoteForm(open).SubmitAsync();
        Assert.Equal("Theirs, and mine", (await shop.OrderAsync()).Note);
        open.WaitForAssertion(() => Assert.Empty(open.FindAll("#meanwhile")));
        Assert.Equal("Theirs, and mine", open.Find("#note").GetAttribute("value"));
    }

    [Fact]
    public async Task Note_SomethingElseOfTheOrderChanged_IsSaved()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var open = Open(shop, page);
        await open.Find("#note").ChangeAsync("Mine");
        await shop.WriteAsync(o => Assert.True(o.Charge("Post", 5m).IsOk));
        await RefreshAsync(open);
        await NoteForm(open).SubmitAsync();
        Assert.Equal("Mine", (await shop.OrderAsync()).Note);
    }

    [Fact]
    public async Task Note_NotTouched_FollowsTheOrder()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var open = Open(shop, page);
        await shop.WriteAsync(o => Assert.True(o.Write("Theirs").IsOk));
        await RefreshAsync(open);
        Assert.Equal("Theirs", open.Find("#note").GetAttribute("value"));
    }

    [Fact]
    public async Task CallOff_ConfirmedAfterTheOrderChanged_IsAskedAnew()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var open = Open(shop, page);
        await open.FindAll("button").Single(b => b.TextContent.Contains("Call the order off", StringComparison.Ordinal)).ClickAsync();
        await shop.WriteAsync(o => Assert.True(o.Write("The customer wants it after all").IsOk));
        await RefreshAsync(open);

        await ConfirmAsync(open, "Call it off");

        Assert.Null((await shop.OrderAsync()).CancelledAt);
        Assert.Contains("Somebody else changed", open.Find(".faults").TextContent, StringComparison.Ordinal);
        await open.FindAll("button").Single(b => b.TextContent.Contains("Call the order off", StringComparison.Ordinal)).ClickAsync();
        await ConfirmAsync(open, "Call it off");
        Assert.NotNull((await shop.OrderAsync()).CancelledAt);
    }

    [Fact]
    public async Task Promise_MovedElsewhereWhileADayIsChosen_IsNotOverwrittenUnseen()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var order = await shop.DetailAsync();
        var form = page.Render<PromiseForm>(p => p.Add(f => f.Order, order).AddCascadingValue(TestPage.Session(shop.Owner)));
        await form.Find("#promise").ChangeAsync("2026-03-20");
        var moved = order.PromisedAt.AddDays(7);
        await shop.WriteAsync(o => o.Promise(moved));
        var now = await shop.DetailAsync();
        form.Render(p => p.Add(f => f.Order, now));

        await form.Find("form").SubmitAsync();

        Assert.Equal(moved, (await shop.OrderAsync()).PromisedAt);
        form.WaitForAssertion(() => Assert.Contains("Somebody else changed", form.Find(".faults").TextContent, StringComparison.Ordinal));
        await form.Find("#promise").ChangeAsync("2026-03-23");
        await form.Find("form").SubmitAsync();
        Assert.Equal(new DateOnly(2026, 3, 23), DateOnly.FromDateTime((await shop.OrderAsync()).PromisedAt.UtcDateTime));
    }

    private static BunitContext Page(ChangedShop shop)
    {
        var page = TestPage.Of(shop.Shop);
        page.ComponentFactories.AddStub<LiveRefresh>();
        page.ComponentFactories.AddStub<ConfirmNamed>();
        page.ComponentFactories.AddStub<OrderProof>();
        page.ComponentFactories.AddStub<CostSheet>();
        page.ComponentFactories.AddStub<OrderTicket>();
        page.ComponentFactories.AddStub<OrderLetterForms>();
        return page;
    }

    private static IRenderedComponent<OneOrderPage> Open(ChangedShop shop, BunitContext page)
    {
        var open = page.Render<OneOrderPage>(p => p.Add(o => o.Number, shop.Booked.Number).AddCascadingValue(TestPage.Session(shop.Owner)));
        open.WaitForElement("#note");
        return open;
    }

    // As after news: the page reads the order again.
    private static Task RefreshAsync(IRenderedComponent<OneOrderPage> open)
    {
        var news = open.FindComponents<Stub<LiveRefresh>>()[0].Instance.Parameters.Get(l => l.OnChange);
        return open.InvokeAsync(news.InvokeAsync);
    }

    private static Task ConfirmAsync(IRenderedComponent<OneOrderPage> open, string action)
    {
        var asked = open.FindComponents<Stub<ConfirmNamed>>().Single(c => c.Instance.Parameters.Get(p => p.Action) == action);
        return open.InvokeAsync(asked.Instance.Parameters.Get(p => p.OnConfirm).InvokeAsync);
    }

    private static AngleSharp.Dom.IElement NoteForm(IRenderedComponent<OneOrderPage> open) =>
        open.FindAll("form").Single(f => f.QuerySelector("#note") is not null);
}
