using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>The places on the order's page where it is put right: closed until asked for, faults beside the fields, the price before the change.</summary>
public sealed class ChangePageTests
{
    [Fact]
    public async Task Line_WrongText_IsToldBesideItsFieldAndTheRightOneIsSaved()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2, "Ana"));
        await using var page = Page(shop);
        var line = await LineAsync(shop, page);
        Assert.Empty(line.FindAll("form"));
        await Press(line, "Change this line");
        Assert.Equal("true", Button(line, "Change this line").GetAttribute("aria-expanded"));
        Assert.Equal("Ana", line.Find("#texts-1").GetAttribute("value"));

        await line.Find("#texts-1").ChangeAsync("Anna\nBerta\nCleo");
        await line.FindAll("form")[0].SubmitAsync();
        Assert.Contains("3 texts for 2 pieces", line.Find("#texts-1-fault").TextContent, StringComparison.Ordinal);
        Assert.Equal("texts-1", line.Find(".faults a").GetAttribute("data-field"));
        await line.Find("#texts-1").ChangeAsync("Anna\nBerta");
        await line.FindAll("form")[0].SubmitAsync();

        Assert.Empty(line.FindAll(".fault"));
        Assert.Contains(line.FindAll("[role=status]"), s => s.TextContent == "Saved.");
        Assert.Equal(["Anna", "Berta"], (await shop.OrderAsync()).Lines[0].Texts);
    }

    [Fact]
    public async Task Line_AnotherNumber_ShowsThePriceFirstAndChangesOnlyWhenConfirmed()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var line = await LineAsync(shop, page);
        await Press(line, "Change this line");
        await line.Find("#quantity-1").ChangeAsync("4");
        await line.FindAll("form")[1].SubmitAsync();

        var before = (await shop.DetailAsync()).Gross;
        Assert.Contains("4 pieces instead of 2", line.Find("h4").TextContent, StringComparison.Ordinal);
        Assert.Contains(line.FindAll("dd"), d => d.TextContent.Contains($"{before:N2}", StringComparison.Ordinal));
        Assert.Equal(2, (await shop.PiecesAsync()).Count);
        await Press(line, "Change it at this price");

        Assert.Empty(line.FindAll("h4"));
        Assert.Equal(4, (await shop.PiecesAsync()).Count);
        // The text form beside it still stands on what it shows.
        await line.Find("#texts-1").ChangeAsync("Serial");
        await line.FindAll("form")[0].SubmitAsync();
        Assert.Equal(["Serial"], (await shop.OrderAsync()).Lines[0].Texts);
        await line.Find("#quantity-1").ChangeAsync("0");
        await line.FindAll("form")[1].SubmitAsync();
        Assert.Contains("call the order off", line.Find("#quantity-1-fault").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Line_AnotherNumberAtOtherRates_SaysEveryLinesPriceAndWhyItChanges()
    {
        var two = ChangedShop.Plates(2);
        two = two with { Lines = [two.Lines[0], two.Lines[0] with { Quantity = 3 }] };
        await using var shop = await ChangedShop.OpenAsync(two);
        var now = await shop.Get<SettingsView>().LoadAsync();
        var dearer = new PricesInput(now.Rates with { LabourPerHour = new Money(90, now.Rates.Currency) }, now.Rule, now.Inputs);
        Assert.True((await shop.Get<ChangePrices>().RunAsync(shop.Asked(), dearer)).IsOk);
        await using var page = Page(shop);
        var line = await LineAsync(shop, page);
        await Press(line, "Change this line");
        await line.Find("#quantity-1").ChangeAsync(new() { Value = "4" });
        await line.FindAll("form")[1].SubmitAsync();

        var quote = await shop.LookAsync(4);
        line.WaitForAssertion(() => Assert.NotEmpty(line.FindAll(".price-reasons li")));
        var names = line.FindAll("dl.facts dt").Select(d => d.TextContent).ToList();
        Assert.Equal(["Price of line 1", "of it for one piece", "Price of line 2"], names[..3]);
        Assert.Contains("as now", line.FindAll("dl.facts dd")[2].TextContent, StringComparison.Ordinal);
        var reasons = line.FindAll(".price-reasons li").Select(r => r.TextContent).ToList();
        Assert.StartsWith("Today's prices: the 2 pieces that were ordered cost", reasons[0], StringComparison.Ordinal);
        Assert.Contains($"+{quote.Why!.SameToday - quote.Price.Before:N2}", reasons[0], StringComparison.Ordinal);
        Assert.Contains("Work by hand +", reasons[0], StringComparison.Ordinal);
        Assert.StartsWith("Number: 4 pieces instead of 2 (+", reasons[1], StringComparison.Ordinal);
        Assert.Contains($"{quote.Price.After - quote.Why.SameToday:N2}", reasons[1], StringComparison.Ordinal);
    }

    [Fact]
    public async Task Line_TextThatSomebodyElsePutMeanwhile_IsNotOverwrittenUnseen()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2, "Ana"));
        await using var page = Page(shop);
        var line = await LineAsync(shop, page);
        await Press(line, "Change this line");
        await line.Find("#texts-1").ChangeAsync("Anne");
        await shop.WriteAsync(o => Assert.True(o.Reword(1, ["Anna"], []).IsOk));
        var now = await shop.DetailAsync();
        line.Render(p => p.Add(l => l.Order, now).Add(l => l.Line, now.Lines[0]));

        await line.FindAll("form")[0].SubmitAsync();
        Assert.Contains("Somebody else changed", line.Find(".faults").TextContent, StringComparison.Ordinal);
        Assert.Equal(["Anna"], (await shop.OrderAsync()).Lines[0].Texts);
        await line.Find("#texts-1").ChangeAsync("Annika");
        await line.FindAll("form")[0].SubmitAsync();
        Assert.Equal(["Annika"], (await shop.OrderAsync()).Lines[0].Texts);
    }

    [Fact]
    public async Task Reach_WrongMail_IsToldBesideItsFieldAndThePromiseStandsBesideTheHonestDay()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        await using var page = Page(shop);
        var detail = await shop.DetailAsync();
        var reach = page.Render<ChangeReach>(p => p.Add(r => r.Order, detail).AddCascadingValue(Session(shop)));
        Assert.Empty(reach.FindAll("input"));
        await Press(reach, "Change contact and day");
        await reach.Find("#email").ChangeAsync("ida");
        await reach.FindAll("form")[0].SubmitAsync();
        Assert.Contains("no e-mail address", reach.Find("#email-fault").TextContent, StringComparison.Ordinal);
        await reach.Find("#email").ChangeAsync("ida@example.com");
        await reach.FindAll("form")[0].SubmitAsync();
        Assert.Equal("ida@example.com", (await shop.OrderAsync()).Contact.Email);
        var promised = detail.Local(detail.PromisedAt);
        reach.WaitForAssertion(() =>
            Assert.Equal(2, reach.FindAll("dd").Count(d => d.TextContent.Trim() == promised.ToString("f", CultureInfo.CurrentCulture)))
        );
        await reach.Find("#promise").ChangeAsync(promised.AddDays(-1).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        Assert.Contains("sooner than the plan", reach.Find(".notice.warn").TextContent, StringComparison.Ordinal);
    }

    private static BunitContext Page(ChangedShop shop)
    {
        var page = TestPage.Of(shop.Shop);
        page.Services.AddSingleton(shop.Get<CorrectTexts>());
        page.Services.AddSingleton(shop.Get<ChangeContact>());
        page.Services.AddSingleton(shop.Get<MovePromise>());
        page.Services.AddSingleton(shop.Get<EarliestView>());
        page.Services.AddSingleton(shop.Get<QuantityView>());
        page.Services.AddSingleton(shop.Get<ChangeQuantity>());
        return page;
    }

    // As on the page: after each change the order is read again.
    private static async Task<IRenderedComponent<ChangeLine>> LineAsync(ChangedShop shop, BunitContext page)
    {
        IRenderedComponent<ChangeLine>? line = null;
        async Task ReadAgainAsync()
        {
            var now = await shop.DetailAsync();
            line!.Render(p => p.Add(l => l.Order, now).Add(l => l.Line, now.Lines[0]));
        }
        var order = await shop.DetailAsync();
        return line = page.Render<ChangeLine>(p =>
            p.Add(l => l.Order, order)
                .Add(l => l.Line, order.Lines[0])
                .Add(l => l.OnDone, EventCallback.Factory.Create<string>(page, ReadAgainAsync))
                .AddCascadingValue(Session(shop))
        );
    }

    private static Task<AuthenticationState> Session(ChangedShop shop)
    {
        var owner = TestPage.Worker(shop.Owner);
        return TestPage.Session(owner);
    }

    private static AngleSharp.Dom.IElement Button<T>(IRenderedComponent<T> at, string words)
        where T : IComponent => at.FindAll("button").First(b => b.TextContent.Trim() == words);

    private static Task Press<T>(IRenderedComponent<T> at, string words)
        where T : IComponent => Button(at, words).ClickAsync();
}
