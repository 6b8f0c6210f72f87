using ShopFloor.Data;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Settings that two windows show at a time do not overwrite each other unsaid.</summary>
public sealed class SeenSettingsTests
{
    private static WorkshopProfile Profile { get; } = new() { Name = "Moorlight", Country = "DE" };

    [Fact]
    public async Task Save_WhatWasChangedMeanwhile_IsRefusedOnceAndThenMeant()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var view = shop.Get<SettingsView>();
        Task<Domain.Result<Domain.Done>> SaveAsync(string city, IReadOnlyDictionary<string, Guid> seen) =>
            shop.Get<ChangeProfile>().RunAsync(Asked.By(owner).HavingSeen(seen), Profile with { City = city });
        async Task<string> CityAsync() => (await view.LoadAsync()).Profile.City;
        var (first, second) = ((await view.LoadAsync()).Versions, (await view.LoadAsync()).Versions);

        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var saved = await SaveAsync("Moorstedt", first);
        Assert.True(saved.IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        var refused = await SaveAsync("Torfheim", second);
        Assert.Equal(("changed-meanwhile", "Moorstedt"), (Assert.Single(refused.Refusals).Code, await CityAsync()));

        // Who was told and saves again means it; and the first window goes on from what it saved itself.
        Assert.True((await SaveAsync("Torfheim", await view.SeenAfterAsync(refused, second))).IsOk);
        Assert.Equal("changed-meanwhile", Assert.Single((await SaveAsync("Heide", first)).Refusals).Code);
        Assert.Equal("Torfheim", await CityAsync());
    }

    [Fact]
    public async Task Save_OtherSettingsChangedMeanwhile_IsNoConflictAndPartsAreNotKept()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var now = await shop.Get<SettingsView>().LoadAsync();
        PricesInput Prices(decimal fee) => new(now.Rates, now.Rule, now.Inputs with { UsualLoss = fee });
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner).HavingSeen(now.Versions), Profile)).IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        Assert.True((await shop.Get<ChangePrices>().RunAsync(Asked.By(owner).HavingSeen(now.Versions), Prices(0.11m))).IsOk);
        shop.Clock.Advance(TimeSpan.FromSeconds(5));
        Assert.False((await shop.Get<ChangePrices>().RunAsync(Asked.By(owner).HavingSeen(now.Versions), Prices(0.12m))).IsOk);
        var after = await shop.Get<SettingsView>().LoadAsync();
        Assert.Equal(0.11m, after.Inputs.UsualLoss);
        Assert.Equal(4, after.Versions.Count);
    }

    [Theory]
    [InlineData("Workshop/WorkshopPage")]
    [InlineData("Workshop/LetterTextsPage")]
    [InlineData("Prices/PricesPage")]
    [InlineData("Invoices/InvoiceSettingsPage")]
    [InlineData("Duties/DutiesPage")]
    [InlineData("Sending/MailPage")]
    public void Pages_OfSettings_SayWhatTheyHaveSeen(string page)
    {
        var text = Tree.Text($"src/ShopFloor.Web/Office/{page}.razor");
        Assert.Contains(".HavingSeen(seen)", text, StringComparison.Ordinal);
        Assert.Contains("SeenAfterAsync(", text, StringComparison.Ordinal);
    }
}
