using Bunit;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The page of a broken station says so, and only its own tick brings it back.</summary>
public sealed class StationPageTests
{
    // 15 g/m³ of an unknown mix (Swiss ordinance 832.312.17): 60 l take 0.9 g; 12 m³/h in 5 min (common practice, no source) are 1 m³ and take 15 g.
    [Fact]
    public async Task Page_OfAnOven_TakesMeasuredFreshAirAndSaysWhatTheAirTakes()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var browser = Browser(shop);
        var page = Open(browser, await shop.WorkerAsync(WorkerRole.Owner));
        page.WaitForAssertion(() => Assert.Contains("0.9 g of solvent in one load", page.Markup, StringComparison.Ordinal));
        Assert.Contains("Empty: none known", page.Markup, StringComparison.Ordinal);

        foreach (var wrong in new[] { "-1", "2001", "much" })
        {
            await page.Find("#freshAir").ChangeAsync(new() { Value = wrong });
            await page.Find("form").SubmitAsync();
            page.WaitForAssertion(() => Assert.Equal("true", page.Find("#freshAir").GetAttribute("aria-invalid")));
            Assert.Contains("resh air", page.Find(".faults").TextContent, StringComparison.Ordinal);
        }

        await page.Find("#freshAir").ChangeAsync(new() { Value = "12" });
        await page.Find("form").SubmitAsync();
        page.WaitForAssertion(() => Assert.Contains("15 g of solvent in one load", page.Markup, StringComparison.Ordinal));
        await page.Find("#vapour").ChangeAsync(new() { Value = "4" });
        await page.Find("form").SubmitAsync();
        page.WaitForAssertion(() => Assert.Contains("4 g of solvent in one load", page.Markup, StringComparison.Ordinal));
        var saved = (OvenSettings)(await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1").Settings;
        Assert.Equal((12m, 4m), (saved.FreshAir, saved.VapourLimitGrams));
    }

    [Fact]
    public async Task Page_OfABrokenStation_SaysUntilWhenAndSavesWithoutBringingItBack()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var until = shop.Clock.GetUtcNow().AddHours(5);
        await using var context = await shop.ContextAsync();
        await context.Stations.Where(s => s.Code == "oven-1").ExecuteUpdateAsync(s => s.SetProperty(x => x.DownUntil, until));
        await using var browser = Browser(shop);
        var page = Open(browser, owner);
        async Task<DateTimeOffset?> SavedAsync()
        {
            await page.Find("form").SubmitAsync();
            page.WaitForAssertion(() => Assert.Contains("Saved.", page.Markup, StringComparison.Ordinal));
            return await context.Stations.AsNoTracking().Where(s => s.Code == "oven-1").Select(s => s.DownUntil).SingleAsync();
        }

        page.WaitForAssertion(() => Assert.Contains("Down until", page.Find(".notice").TextContent, StringComparison.Ordinal));
        Assert.Equal(until, await SavedAsync());
        await page.Find("#usable").ChangeAsync(new() { Value = true });
        Assert.Null(await SavedAsync());
        Assert.Empty(page.FindAll("#usable"));
    }

    [Fact]
    public async Task Page_OfAnOvenThatBreaksWithALoadInIt_SaysWhatIsInIt()
    {
        await using var bench = await BenchShop.OpenAsync(2);
        await bench.WorkToAsync(StepKind.Cure);
        var load = BenchShop.Must(await bench.StartAsync((await bench.PiecesAsync())[0].NextAttended!.Number)).Batch!;
        await using var browser = Browser(bench.Shop);
        var page = Open(browser, await bench.Shop.WorkerAsync(WorkerRole.Owner));
        page.WaitForElement("form");
        Assert.DoesNotContain(load, page.Markup, StringComparison.Ordinal);
        await page.Find("#down").ChangeAsync(new() { Value = "4" });
        await page.Find("form").SubmitAsync();
        page.WaitForAssertion(() => Assert.Equal($"b/{load}", page.Find(".notice.stop a").GetAttribute("href")));
        Assert.Contains("with 2 pieces is in it", page.Find(".notice.stop").TextContent, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Page_OfAnOven_HasARowForEachShelf()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using var browser = Browser(shop);
        var page = Open(browser, await shop.WorkerAsync(WorkerRole.Owner));
        page.WaitForElement(".shelf-row");
        var oven = (OvenSettings)(await shop.Get<StationListView>().LoadAsync()).First(s => s.Code == "oven-1").Settings;
        Assert.Equal(oven.Shelves.Count, page.FindAll(".shelf-row").Count);
        Assert.All(page.FindAll(".shelf-row"), r => Assert.Equal(3, r.QuerySelectorAll("input").Length));
        Assert.Contains("From its plate", page.Markup, StringComparison.Ordinal);
        Assert.Equal(
            3 * oven.Shelves.Count,
            page.FindAll("input").Count(i => i.Id?.StartsWith("shelf-", StringComparison.Ordinal) == true)
        );
    }

    private static BunitContext Browser(TestShop shop)
    {
        var browser = TestPage.Of(shop);
        browser.Services.AddMudServices();
        return browser;
    }

    private static IRenderedComponent<StationPage> Open(BunitContext browser, Guid owner)
    {
        var user = TestPage.Worker(owner);
        return browser.Render<StationPage>(p => p.Add(s => s.Code, "oven-1").AddCascadingValue(TestPage.Session(user)));
    }
}
