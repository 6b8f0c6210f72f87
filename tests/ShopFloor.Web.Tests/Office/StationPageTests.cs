using System.Security.Claims;
using Bunit;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using MudBlazor.Services;
using ShopFloor.Data;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>The page of a broken station says so, and only its own tick brings it back.</summary>
public sealed class StationPageTests
{
    [Fact]
    public async Task Page_OfABrokenStation_SaysUntilWhenAndSavesWithoutBringingItBack()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var until = shop.Clock.GetUtcNow().AddHours(5);
        await using var context = await shop.ContextAsync();
        await context.Stations.Where(s => s.Code == "oven-1").ExecuteUpdateAsync(s => s.SetProperty(x => x.DownUntil, until));
        await using var browser = new BunitContext();
        browser.JSInterop.Mode = JSRuntimeMode.Loose;
        browser.Services.AddLocalization();
        browser.Services.AddMudServices();
        browser.Services.AddSingleton<TimeProvider>(shop.Clock);
        browser.Services.AddSingleton(shop.Get<StationListView>());
        browser.Services.AddSingleton(shop.Get<ChangeStation>());
        browser.Services.AddSingleton(shop.Get<SettingsView>());
        var user = new ClaimsPrincipal(new ClaimsIdentity([new Claim(ClaimTypes.NameIdentifier, owner.ToString())], "test"));
        var page = browser.Render<StationPage>(p =>
            p.Add(s => s.Code, "oven-1").AddCascadingValue(Task.FromResult(new AuthenticationState(user)))
        );
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
}
