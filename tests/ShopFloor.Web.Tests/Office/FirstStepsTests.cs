using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Office.Workshop;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>A new shop is told what it lacks, by what its data say, until it runs.</summary>
public sealed class FirstStepsTests
{
    [Fact]
    public async Task Load_FreshShop_SaysWhatTheFirstOrderWaitsFor()
    {
        await using var shop = await FreshAsync();
        var sheet = (await shop.Get<FirstStepsView>().LoadAsync())!;
        Assert.All(sheet.Steps, s => Assert.False(s.IsDone, s.Key));
        Assert.Equal(2, sheet.Needed.Count);
        var cans = sheet.Steps.Single(s => s.Key == FirstStepKeys.Cans).Note;
        Assert.Contains("Clear coat", cans, StringComparison.Ordinal);
        Assert.Contains("Promoter", cans, StringComparison.Ordinal);
        Assert.Contains("Convection oven", sheet.Steps.Single(s => s.Key == FirstStepKeys.Stations).Note, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Load_EachThingEntered_IsDoneAndAtLastTheCardIsGone()
    {
        await using var shop = await FreshAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        async Task<bool> DoneAsync(string key) => (await shop.Get<FirstStepsView>().LoadAsync())!.Steps.Single(s => s.Key == key).IsDone;

        IReadOnlyList<Shift> week = [new(DayOfWeek.Monday, new(8, 0), new(16, 0), new(16, 0))];
        var person = new PersonInput("ada", null, "Ada", [StationKind.Bench], week, true);
        Assert.True((await shop.Get<KeepPerson>().RunAsync(Asked.By(owner), person)).IsOk);
        Assert.True(await DoneAsync(FirstStepKeys.People));
        var profile = new WorkshopProfile
        {
            Name = "Moorlight",
            Street = "Torfweg 7",
            City = "Moorstedt",
            Country = "DE",
            Iban = "DE36 0000 0000 0000 0000 00",
        };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile)).IsOk);
        Assert.False(await DoneAsync(FirstStepKeys.Workshop));
        var said = (await shop.Get<FirstStepsView>().LoadAsync())!.Steps.Single(s => s.Key == FirstStepKeys.Workshop).Note;
        Assert.Contains("tax number", said, StringComparison.Ordinal);
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile with { TaxNumber = "12/345/67890" })).IsOk);
        Assert.True(await DoneAsync(FirstStepKeys.Workshop));
        var inWords = profile with { Iban = "", AccountWords = "Harbour Bank, branch 06-000, 1234 5678", TaxNumber = "12/345/67890" };
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), inWords)).IsOk);
        Assert.True(await DoneAsync(FirstStepKeys.Workshop));
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), inWords with { AccountWords = "" })).IsOk);
        Assert.False(await DoneAsync(FirstStepKeys.Workshop));
        Assert.True((await shop.Get<ChangeProfile>().RunAsync(Asked.By(owner), inWords)).IsOk);
        await CansAsync(shop);
        Assert.True(await DoneAsync(FirstStepKeys.Cans));
        Assert.Empty((await shop.Get<FirstStepsView>().LoadAsync())!.Needed);

        foreach (var key in FirstStepKeys.MayStay)
            Assert.True((await shop.Get<LeaveAsShipped>().RunAsync(Asked.By(owner), key)).IsOk);
        await BoothIsAskedAboutAsync(shop, owner);
        Assert.Null(await shop.Get<FirstStepsView>().LoadAsync());
    }

    [Fact]
    public async Task Load_CansOfOneFinishAndNoneToWipeOn_IsEnoughForAnOrder()
    {
        await using var shop = await FreshAsync();
        await CansAsync(shop, CoatingKind.WhiteBase, CoatingKind.Clear);
        var sheet = (await shop.Get<FirstStepsView>().LoadAsync())!;
        Assert.Equal("somebody works here and has hours", Assert.Single(sheet.Needed));
        Assert.False(sheet.Steps.Single(s => s.Key == FirstStepKeys.Cans).IsDone);
    }

    [Fact]
    public async Task Leave_WhatHasToBeEntered_IsRefused()
    {
        await using var shop = await FreshAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var refused = await shop.Get<LeaveAsShipped>().RunAsync(Asked.By(owner), FirstStepKeys.People);
        Assert.Equal("step-unknown", Assert.Single(refused.Refusals).Code);
        Assert.Empty((await shop.Get<SettingsView>().LoadAsync()).LookedThrough);
    }

    [Fact]
    public async Task Load_APieceWasHandedOver_NothingMoreIsSaid()
    {
        await using var bench = await BenchShop.OpenAsync(quantity: 1);
        Assert.NotNull(await bench.Shop.Get<FirstStepsView>().LoadAsync());
        await bench.WorkToAsync(StepKind.Mask);
        BenchShop.Must(await bench.Shop.Get<HandOver>().RunAsync(bench.Ask(), new Target(bench.Code)));
        Assert.Equal(PieceState.HandedOver, (await bench.PiecesAsync())[0].State);
        Assert.Null(await bench.Shop.Get<FirstStepsView>().LoadAsync());
    }

    // Nobody but the owner knows whether an oven stands where paint is sprayed: all else looked through, that is still asked.
    private static async Task BoothIsAskedAboutAsync(TestShop shop, Guid owner)
    {
        var open = Assert.Single((await shop.Get<FirstStepsView>().LoadAsync())!.Steps, s => !s.IsDone);
        Assert.Equal((FirstStepKeys.Stations, false), (open.Key, open.MayStay));
        Assert.Contains("same room as an oven", open.Question, StringComparison.Ordinal);
        var booth = (await shop.Get<StationListView>().LoadAsync()).First(s => s.Kind == StationKind.Booth);
        Assert.Equal($"office/stations/{booth.Code}", open.Href);
        var input = new StationInput(booth.Id, booth.Version, booth.Name, new BoothSettings([]), null, true);
        Assert.True((await shop.Get<ChangeStation>().RunAsync(Asked.By(owner), input)).IsOk);
    }

    private static async Task<TestShop> FreshAsync()
    {
        var shop = await TestShop.EmptyAsync();
        Assert.True((await shop.Get<InstallShipped>().RunAsync(Asked.BySystem())).IsOk);
        return shop;
    }

    private static async Task CansAsync(TestShop shop, params CoatingKind[] kinds)
    {
        await using var context = await shop.ContextAsync();
        foreach (var coating in (await context.Coatings.ToListAsync()).Where(c => kinds.Length == 0 || kinds.Contains(c.Kind)))
            context.Cans.Add(new Can(new(Guid.CreateVersion7()), coating.Id, $"{coating.Code}-1", "L1", 400, null, shop.Clock.GetUtcNow()));
        await context.SaveChangesAsync();
    }
}
