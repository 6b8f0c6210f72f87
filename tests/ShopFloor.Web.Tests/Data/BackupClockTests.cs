using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>Backups made by hand, left half done, or made while the clock was ahead take the place of no sound one.</summary>
public sealed class BackupClockTests
{
    [Fact]
    public async Task Make_ManyByHand_TakesNoOtherDayAway()
    {
        await using var shop = await TestShop.EmptyAsync();
        var keep = Keep(shop, kept: 3);
        for (var day = 0; day < 4; day++, shop.Clock.Advance(TimeSpan.FromDays(1)))
            Assert.NotNull(keep.RunIfDue());
        string[] days = ["shopfloor-20260305.db", "shopfloor-20260306.db", "shopfloor-20260307.db"];
        for (var n = 0; n < 5; n++, shop.Clock.Advance(TimeSpan.FromSeconds(1)))
            keep.RunNow();
        Assert.Equal(days, Names(keep).Where(n => n.Length == days[0].Length));
        Assert.Equal(3, Names(keep).Count(n => n.Length > days[0].Length));
    }

    [Fact]
    public async Task Make_AfterTheClockWasAhead_KeepsTheNewOneAndCountsNoneOfATimeToCome()
    {
        await using var shop = await TestShop.EmptyAsync();
        var keep = Keep(shop, kept: 2);
        var check = new BackupCheck(keep, new HostSettings { DataFolder = shop.Folder }, shop.Clock);
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(400));
        for (var day = 0; day < 2; day++, shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(1)))
            keep.RunIfDue();
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(-400));

        Assert.Equal(2, keep.Ahead);
        var made = keep.RunIfDue();
        Assert.True(File.Exists(made!.File));
        Assert.Equal(made.File, keep.Newest);
        Assert.Equal(2, keep.Ahead);
        // In the list the sound one stands first, and each of the others is told apart.
        Assert.Equal([false, true, true], keep.All.Select(keep.IsAhead));
        Assert.Equal(made.File, keep.All[0].FullName);
        Assert.Null(keep.RunIfDue());
        shop.Clock.Advance(TimeSpan.FromHours(37));
        var health = await check.CheckHealthAsync(new());
        Assert.Equal(HealthStatus.Degraded, health.Status);
        Assert.Contains("2 are dated in the future", health.Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Rehearse_LastOneIsOfATimeToCome_IsDue()
    {
        await using var shop = await TestShop.EmptyAsync();
        var keep = shop.Get<KeepBackup>();
        keep.RunNow();
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(400));
        Assert.True(await shop.Get<RehearseRestore>().RunAsync());
        shop.Clock.AdjustTime(shop.Clock.GetUtcNow().AddDays(-400));
        Assert.Null((await shop.Get<TodayView>().LoadAsync()).Backup.Trial);
        Assert.True(await shop.Get<RehearseRestore>().RunAsync());
        Assert.Equal(new DateOnly(2026, 3, 4), (await shop.Get<TodayView>().LoadAsync()).Backup.Trial!.Day);
        Assert.Null(await shop.Get<RehearseRestore>().RunAsync());
    }

    [Fact]
    public async Task Make_PartsWereLeftBehind_TakesThoseThatAreOlderThanADay()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings { DataFolder = shop.Folder, BackupFolder = Path.Combine(shop.Folder, "elsewhere") };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        string[] folders = [keep.Folder, Path.Combine(keep.Folder, "pictures"), Path.Combine(shop.Folder, "backups")];
        string[] names =
        [
            ".shopfloor-20260301.0123.part",
            ".shopfloor-20260301.0123.part-journal",
            "one.clean.part",
            "one.clean.sealed.0123.part",
        ];
        foreach (var (folder, name) in folders.SelectMany(f => names, (f, n) => (f, n)))
        foreach (var (hours, mark) in new[] { (23, "new"), (25, "old") })
        {
            var file = Path.Combine(Directory.CreateDirectory(folder).FullName, mark + name);
            await File.WriteAllTextAsync(file, "half");
            File.SetLastWriteTimeUtc(file, shop.Clock.GetUtcNow().AddHours(-hours).UtcDateTime);
        }
        keep.RunNow();
        foreach (var folder in folders)
            Assert.Equal(
                names.Select(n => "new" + n).Order(StringComparer.Ordinal),
                Directory.GetFiles(folder, "*.part*").Select(Path.GetFileName).Order(StringComparer.Ordinal)
            );
    }

    private static KeepBackup Keep(TestShop shop, int kept) =>
        new(
            new HostSettings
            {
                DataFolder = shop.Folder,
                BackupHour = 0,
                BackupsKept = kept,
            },
            shop.Clock,
            NullLogger<KeepBackup>.Instance
        );

    private static IEnumerable<string> Names(KeepBackup keep) => keep.All.Select(f => f.Name).Order(StringComparer.Ordinal);
}
