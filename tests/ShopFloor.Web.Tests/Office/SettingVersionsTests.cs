using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Of the dated settings only what holds is read, however many versions there were.</summary>
public sealed class SettingVersionsTests
{
    private const int Versions = 2_000;

    [Fact]
    public async Task Load_ManyVersions_ReadsOneOfEachKey()
    {
        await using var shop = await ShopAsync();
        var now = shop.Clock.GetUtcNow();
        await using var context = await shop.ContextAsync();
        shop.Reads.Clear();
        var today = await CurrentSettings.LoadAsync(context, now, default);
        Assert.Equal(2, shop.Reads.Rows("FROM \"Settings\""));
        Assert.Equal(($"Name {Versions / 2}", 0m), (today.Profile.Name, today.Inputs.UsualLoss));

        shop.Reads.Clear();
        var before = await CurrentSettings.LoadAsync(context, now.AddDays(-700), default);
        Assert.Equal(2, shop.Reads.Rows("FROM \"Settings\""));
        Assert.Equal(($"Name {Versions / 2 - 700}", 0.700m), (before.Profile.Name, before.Inputs.UsualLoss));
        Assert.Empty((await CurrentSettings.LoadAsync(context, now.AddDays(-Versions), default)).Versions);
    }

    [Fact]
    public async Task Load_VersionsOfOneInstant_TheLaterIdHoldsAndTheStampIsOfWhatHolds()
    {
        await using var shop = await ShopAsync();
        var now = shop.Clock.GetUtcNow();
        await using var context = await shop.ContextAsync();
        var first = await CurrentSettings.LoadAsync(context, now, default);
        Assert.Equal(first.Stamp, (await CurrentSettings.LoadAsync(context, now.AddHours(1), default)).Stamp);

        var (low, high) = (Guid.Parse("ff000000-0000-7000-8000-000000000001"), Guid.Parse("ff000000-0000-7000-8000-000000000002"));
        context.Settings.Add(Profile(high, now, "the later id"));
        context.Settings.Add(Profile(low, now, "the lower id"));
        await context.SaveChangesAsync();
        var later = await CurrentSettings.LoadAsync(context, now, default);
        Assert.Equal(("the later id", high), (later.Profile.Name, later.Versions[SettingKeys.Profile]));
        Assert.NotEqual(first.Stamp, later.Stamp);

        // One more of an earlier time changes nothing of what holds.
        context.Settings.Add(Profile(Guid.CreateVersion7(), now.AddDays(-3).AddHours(1), "in between"));
        await context.SaveChangesAsync();
        Assert.Equal(later.Stamp, (await CurrentSettings.LoadAsync(context, now, default)).Stamp);
    }

    private static async Task<TestShop> ShopAsync()
    {
        var shop = await TestShop.EmptyAsync();
        await using var context = await shop.ContextAsync();
        var now = shop.Clock.GetUtcNow();
        for (var i = 0; i < Versions / 2; i++)
        {
            var from = now.AddDays(-i);
            context.Settings.Add(Profile(Guid.CreateVersion7(), from, $"Name {Versions / 2 - i}"));
            var json = JsonSerializer.Serialize(new PriceInputs { UsualLoss = i / 1_000m }, JsonForms.Default);
            context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), SettingKeys.PriceInputs, from, json, "owner"));
        }
        await context.SaveChangesAsync();
        return shop;
    }

    private static DatedSetting Profile(Guid id, DateTimeOffset from, string name) =>
        new(id, SettingKeys.Profile, from, JsonSerializer.Serialize(new WorkshopProfile { Name = name }, JsonForms.Default), "owner");
}
