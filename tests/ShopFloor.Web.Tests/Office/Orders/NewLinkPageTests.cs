using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Shared.Controls;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>A new link to a customer's page is asked about first, shown once, and then printed with the ticket.</summary>
public sealed class NewLinkPageTests
{
    private sealed class NoToken : AntiforgeryStateProvider
    {
        public override AntiforgeryRequestToken? GetAntiforgeryToken() => null;
    }

    [Fact]
    public async Task NewLink_AskedFirst_IsMadeOnlyWhenConfirmedAndShownOnce()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        await using var page = Page(shop);
        var before = (await shop.OrderAsync()).StatusLinkHash;
        var ticket = Open(shop, page, shop.Booked.Number);
        Assert.Contains("without a code", ticket.Find("form button").TextContent, StringComparison.Ordinal);
        Assert.False(ticket.FindComponent<ConfirmNamed>().Instance.Open);

        await AskAsync(ticket);
        var asked = ticket.FindComponent<ConfirmNamed>().Instance;
        Assert.Equal((true, $"Make a new link for order {shop.Booked.Number}?"), (asked.Open, asked.Title));
        Assert.Contains("stop to work at once", asked.Consequence, StringComparison.Ordinal);
        Assert.Equal(before, (await shop.OrderAsync()).StatusLinkHash);
        await ticket.InvokeAsync(() => asked.OpenChanged.InvokeAsync(false));
        Assert.Empty(ticket.FindAll(".link-text"));
        Assert.Equal(before, (await shop.OrderAsync()).StatusLinkHash);

        await AskAsync(ticket);
        await ticket.InvokeAsync(() => ticket.FindComponent<ConfirmNamed>().Instance.OnConfirm.InvokeAsync());
        ticket.WaitForAssertion(() => Assert.Contains("/status/", ticket.Find(".link-text").TextContent, StringComparison.Ordinal));
        Assert.NotEqual(before, (await shop.OrderAsync()).StatusLinkHash);
        Assert.Contains("with the new code", ticket.Find("form button").TextContent, StringComparison.Ordinal);
        Assert.NotNull(ticket.Find("form input[name=link]").GetAttribute("value"));
        Assert.DoesNotContain(ticket.FindAll("button"), b => b.TextContent.Contains("Make a new link", StringComparison.Ordinal));
    }

    [Fact]
    public async Task NewLink_OfAnOrderThatIsGone_IsToldAndNoLinkIsShown()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        await using var page = Page(shop);
        var ticket = Open(shop, page, shop.Booked.Number + 100);
        await AskAsync(ticket);
        await ticket.InvokeAsync(() => ticket.FindComponent<ConfirmNamed>().Instance.OnConfirm.InvokeAsync());
        ticket.WaitForAssertion(() => Assert.Contains("no longer there", ticket.Find(".faults").TextContent, StringComparison.Ordinal));
        Assert.Empty(ticket.FindAll(".link-text"));
    }

    private static Task AskAsync(IRenderedComponent<OrderTicket> ticket) =>
        ticket.FindAll("button").First(b => b.TextContent.Contains("Make a new link", StringComparison.Ordinal)).ClickAsync();

    private static IRenderedComponent<OrderTicket> Open(ChangedShop shop, BunitContext page, int number)
    {
        var owner = TestPage.Worker(shop.Owner);
        return page.Render<OrderTicket>(p => p.Add(t => t.Number, number).AddCascadingValue(TestPage.Session(owner)));
    }

    private static BunitContext Page(ChangedShop shop)
    {
        var page = TestPage.Plain();
        page.Services.AddMudServices();
        page.Services.AddSingleton<AntiforgeryStateProvider, NoToken>();
        page.Services.AddSingleton(shop.Get<NewStatusLink>());
        page.Services.AddSingleton(shop.Get<SettingsView>());
        return page;
    }
}
