using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Office.Invoices;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Background;

/// <summary>A clock that is far from what it was known to be is doubted until it is right again or the owner confirms it.</summary>
public sealed class WatchClockTests
{
    [Theory]
    [InlineData(44, true)]
    [InlineData(46, false)]
    [InlineData(4000, false)]
    [InlineData(-1, true)]
    [InlineData(-3, false)]
    public async Task Watch_ClockJumped_IsDoubtedWhereItIsFarFromTheLastSureInstant(int days, bool isSure)
    {
        await using var shop = await TestShop.EmptyAsync();
        Assert.True(await LookAsync(shop));
        Move(shop, days);
        Assert.Equal(isSure, await LookAsync(shop));
        Assert.Equal(isSure, await LookAsync(shop));
        Assert.Equal(isSure, await shop.Get<ClockView>().LoadAsync() is null);
    }

    [Fact]
    public async Task Watch_DayByDay_MovesTheMarkAlong()
    {
        await using var shop = await TestShop.EmptyAsync();
        for (var day = 0; day < 100; day++, Move(shop, 1))
            Assert.True(await LookAsync(shop));
        await using var context = await shop.ContextAsync();
        Assert.Equal(shop.Clock.GetUtcNow().AddDays(-1), (await context.Settings.SingleAsync(s => s.Key == SettingKeys.ClockSeen)).From);
        var settings = await CurrentSettings.LoadAsync(context, shop.Clock.GetUtcNow(), default);
        Assert.Empty(settings.Versions);
    }

    [Fact]
    public async Task Watch_FirstLookOfAShopWithAJournal_BeginsAtItsLastEntry()
    {
        await using var shop = await ShopOrders.DemoAsync();
        Move(shop, 60);
        Assert.False(await LookAsync(shop));
        await using (var context = await shop.ContextAsync())
            await context.Settings.Where(s => s.Key == SettingKeys.ClockSeen).ExecuteDeleteAsync();
        Move(shop, -60);
        Assert.True(await LookAsync(shop));
    }

    [Fact]
    public async Task Issue_ClockIsDoubted_IsRefusedUntilTheOwnerConfirmsIt()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var order = await shop.OrderAsync();
        Assert.True(await LookAsync(shop.Shop));
        Move(shop.Shop, 700);
        // Also before anybody looked.
        var refused = await shop.Shop.Get<IssueInvoice>().RunAsync(shop.Asked(), new IssueInput(order));
        Assert.Equal("clock-doubted", Assert.Single(refused.Refusals).Code);

        Assert.True((await shop.Shop.Get<ConfirmClock>().RunAsync(shop.Asked())).IsOk);

        Assert.Null(await shop.Shop.Get<ClockView>().LoadAsync());
        Assert.True(await LookAsync(shop.Shop));
        await shop.InvoiceAsync(order);
        // It was a mistake: put right, the clock is far behind what was confirmed.
        Move(shop.Shop, -700);
        Assert.False(await LookAsync(shop.Shop));
        Assert.True((await shop.Shop.Get<ConfirmClock>().RunAsync(shop.Asked())).IsOk);
        Assert.True(await LookAsync(shop.Shop));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(2, await context.SecurityEvents.CountAsync(e => e.What == ConfirmClock.What));
    }

    /// <summary>What was set while the clock was ahead holds until it is put right and no longer once the owner has set something else.</summary>
    [Fact]
    public async Task Keep_VersionOfATimeToCome_DoesNotComeBackUnasked()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await KeepAsync(shop, owner, 40);
        Move(shop, 400);
        await KeepAsync(shop, owner, 50);
        Move(shop, -400);
        Assert.Equal(40, await DraftDaysAsync(shop));
        await KeepAsync(shop, owner, 60);
        Move(shop, 401);
        Assert.Equal(60, await DraftDaysAsync(shop));
    }

    /// <summary>A clock that is itself far behind takes nothing away: what seems to come is what holds.</summary>
    [Fact]
    public async Task Keep_WhileTheClockIsBehind_TakesNothingAway()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        await KeepAsync(shop, owner, 40);
        Assert.True(await LookAsync(shop));
        Move(shop, -400);
        await KeepAsync(shop, owner, 50);
        Move(shop, 400);
        Assert.Equal(40, await DraftDaysAsync(shop));
    }

    [Fact]
    public async Task Recipe_VersionOfATimeToCome_DoesNotComeBackUnasked()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var before = await FactsAsync(shop.Shop);
        var (recipe, material) = before
            .Recipes.SelectMany(r => before.Settings.Materials.Values, (Recipe, Material) => (Recipe, Material))
            .First(c => before.RecipeFor(c.Recipe.Finish, c.Material)?.Id == c.Recipe.Id);
        async Task<int> ChangeAsync()
        {
            await using var context = await shop.Shop.ContextAsync();
            var last = await context.Recipes.AsNoTracking().Where(r => r.Name == recipe.Name).OrderBy(r => r.Version).LastAsync();
            Assert.True((await shop.Shop.Get<ChangeRecipe>().RunAsync(shop.Asked(), new RecipeInput(last.Id, last.Steps))).IsOk);
            return last.Version + 1;
        }
        Move(shop.Shop, 400);
        await ChangeAsync();
        Move(shop.Shop, -400);
        var wanted = await ChangeAsync();
        Move(shop.Shop, 401);
        Assert.Equal(wanted, (await FactsAsync(shop.Shop)).RecipeFor(recipe.Finish, material)!.Version);
    }

    private static async Task<ShopFacts> FactsAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await ShopFacts.LoadAsync(context, shop.Clock.GetUtcNow(), default);
    }

    private static Task<bool> LookAsync(TestShop shop) => shop.Get<WatchClock>().RunAsync();

    // Hands only: a clock that is put back.
    private static void Move(TestShop shop, int days) => shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(days));

    private static async Task KeepAsync(TestShop shop, Guid owner, int days) =>
        Assert.True((await shop.Get<ChangeKeeping>().RunAsync(Asked.By(owner), new KeepingTimes { DraftDays = days })).IsOk);

    private static async Task<int> DraftDaysAsync(TestShop shop) => (await shop.Get<SettingsView>().LoadAsync()).Keeping.DraftDays;
}
