using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>A workshop has as many stations as it has, and says which ovens breathe the booth's air.</summary>
public sealed class NewStationTests
{
    [Theory]
    [InlineData(StationKind.Oven, "oven-2")]
    [InlineData(StationKind.Press, "press-2")]
    [InlineData(StationKind.Bench, "bench-2")]
    [InlineData(StationKind.Booth, "booth-2")]
    [InlineData(StationKind.Rack, "rack-2")]
    [InlineData(StationKind.Printer, "printer-2")]
    public async Task Add_AnotherOfAKind_HasTheNumbersOfTheFirstAndWaitsToBeUsed(StationKind kind, string code)
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = Asked.By(await shop.WorkerAsync(WorkerRole.Owner));
        Assert.Equal(code, (await shop.Get<AddStation>().RunAsync(owner, new NewStation(kind, " Second one "))).Value);

        var all = await shop.Get<StationListView>().LoadAsync();
        var (first, added) = (all.First(s => s.Kind == kind), all.Single(s => s.Code == code));
        Assert.Equal(("Second one", false), (added.Name, added.InUse));
        Assert.Equivalent(first.Settings, added.Settings, strict: true);
    }

    [Fact]
    public async Task Add_NameThatIsMissingOrTaken_IsRefusedBesideIt()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        foreach (var name in new[] { " ", "convection OVEN ", new string('x', 61) })
        {
            var result = await shop.Get<AddStation>().RunAsync(Asked.By(owner), new NewStation(StationKind.Oven, name));
            Assert.Equal("name", Assert.Single(result.Refusals).Field);
        }
        var bench = await shop.WorkerAsync(WorkerRole.Bench);
        Assert.False((await shop.Get<AddStation>().RunAsync(Asked.By(bench), new NewStation(StationKind.Oven, "Mine"))).IsOk);
        Assert.Equal(6, (await shop.Get<StationListView>().LoadAsync()).Count);
    }

    [Fact]
    public async Task Change_ToTheNameOfAnother_IsRefused()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var row = (await shop.Get<StationListView>().LoadAsync()).Single(s => s.Code == "oven-1");
        var input = new StationInput(row.Id, row.Version, "Flat press", row.Settings, null, true);
        var result = await shop.Get<ChangeStation>().RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Owner)), input);
        Assert.Equal("name", Assert.Single(result.Refusals).Field);
    }

    [Fact]
    public async Task Page_OfANewOven_AsksForKindAndNameAndLeadsToItsOwnPage()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var browser = Browser(shop);
        var user = await UserAsync(shop);
        var page = browser.Render<NewStationPage>(p => p.AddCascadingValue(user));
        await page.Find("form").SubmitAsync();
        Assert.Equal("true", page.Find("#kind").GetAttribute("aria-invalid"));
        var oven = page.FindAll("#kind option").Single(o => o.TextContent == "Oven").GetAttribute("value");
        await page.Find("#kind").ChangeAsync(oven);
        await page.Find("#name").ChangeAsync("Large oven");
        await page.Find("form").SubmitAsync();
        page.WaitForAssertion(() =>
            Assert.EndsWith(
                "office/stations/oven-2",
                browser.Services.GetRequiredService<NavigationManager>().Uri,
                StringComparison.Ordinal
            )
        );
    }

    [Fact]
    public async Task Page_OfTheBooth_KeepsWhichOvensShareItsAir()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var browser = Browser(shop);
        var user = await UserAsync(shop);
        var page = browser.Render<StationPage>(p => p.Add(s => s.Code, "booth-1").AddCascadingValue(user));
        page.WaitForElement("#air-oven-1");
        await page.Find("#air-oven-1").ChangeAsync(true);
        await page.Find("form").SubmitAsync();
        page.WaitForAssertion(() => Assert.Contains("Saved.", page.Markup, StringComparison.Ordinal));
        await using var context = await shop.ContextAsync();
        var booth = await context.Stations.AsNoTracking().SingleAsync(s => s.Code == "booth-1");
        Assert.Equal(["oven-1"], ((BoothSettings)booth.Settings).SharesAirWith);
        Assert.True(page.Find("#air-oven-1").HasAttribute("checked"));
    }

    [Fact]
    public async Task Form_OfABoothThatSomebodyElseSaved_KeepsWhatWasTickedHere()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await shop.Get<AddStation>()
            .RunAsync(Asked.By(await shop.WorkerAsync(WorkerRole.Owner)), new NewStation(StationKind.Oven, "Large oven"));
        var all = await shop.Get<StationListView>().LoadAsync();
        var row = all.Single(s => s.Code == "booth-1");
        var form = new StationForm(row, all);
        form.Air!.Ovens[1].IsShared = true;
        var theirs = row with { Settings = new BoothSettings(["oven-1"]) };
        var next = form.Follow(theirs, shop.Clock.GetUtcNow(), [.. all.Select(s => s.Code == row.Code ? theirs : s)]);
        Assert.Equal([true, true], next.Air!.Ovens.Select(o => o.IsShared));
        Assert.Equal("Convection oven", Assert.Single(next.Meanwhile).Label);
    }

    private static async Task<Task<AuthenticationState>> UserAsync(TestShop shop)
    {
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var user = TestPage.Worker(owner);
        return TestPage.Session(user);
    }

    private static BunitContext Browser(TestShop shop)
    {
        var browser = TestPage.Of(shop);
        browser.Services.AddMudServices();
        return browser;
    }
}
