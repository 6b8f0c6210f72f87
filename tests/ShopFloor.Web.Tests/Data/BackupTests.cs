using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Time.Testing;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Today;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>A backup a day, and the commands that put one back.</summary>
public sealed class BackupTests
{
    [Fact]
    public async Task RunIfDue_HourByHour_MakesOneADayAndKeepsTheLast()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings
        {
            DataFolder = shop.Folder,
            BackupHour = 10,
            BackupsKept = 3,
        };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        Assert.Null(keep.RunIfDue());
        for (var hour = 0; hour < 5 * 24; hour++)
        {
            shop.Clock.Advance(TimeSpan.FromHours(1));
            keep.RunIfDue();
        }
        var names = Directory.GetFiles(keep.Folder, "*.db").Select(Path.GetFileName).Order(StringComparer.Ordinal);
        Assert.Equal(["shopfloor-20260306.db", "shopfloor-20260307.db", "shopfloor-20260308.db"], names);
        Assert.Equal(3, Directory.GetFiles(keep.Folder, "*.sha256").Length);
        Assert.NotNull(keep.Last);
    }

    [Fact]
    public async Task Rehearse_WeekByWeek_PutsTheNewestBackBesideTheShopAndSaysWhatCame()
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var keep = shop.Get<KeepBackup>();
        var rehearse = shop.Get<RehearseRestore>();
        Assert.Null(await rehearse.RunAsync());
        var before = Directory.GetFiles(shop.Folder, "*.db");
        keep.RunNow();

        Assert.True(await rehearse.RunAsync());
        Assert.Null(await rehearse.RunAsync());

        var trial = (await shop.Get<TodayView>().LoadAsync()).Backup.Trial!;
        await using var context = await shop.ContextAsync();
        var (orders, pictures) = (await context.Orders.CountAsync(), await context.Pictures.CountAsync());
        Assert.Equal((true, new DateOnly(2026, 3, 4)), (trial.IsGood, trial.Day));
        Assert.Contains($"{orders} orders", trial.Words, StringComparison.Ordinal);
        Assert.Contains($"{pictures} pictures", trial.Words, StringComparison.Ordinal);
        Assert.Equal(before, Directory.GetFiles(shop.Folder, "*.db"));
        Assert.Empty(Directory.GetDirectories(Path.Combine(shop.Folder, "aside")));
        shop.Clock.Advance(TimeSpan.FromDays(7));
        Assert.True(await rehearse.RunAsync());
    }

    /// <summary>What a program that was ended in the middle of it left aside is dropped at a later start, nothing newer.</summary>
    [Fact]
    public async Task Aside_LeftBehind_IsDroppedAfterADay()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (folder, file) = (AsideFolder.New(shop.Folder, "check"), AsideFolder.NewFile(shop.Folder));
        Assert.StartsWith(shop.Folder, folder.Path, StringComparison.Ordinal);
        await File.WriteAllTextAsync(file, "half");
        await File.WriteAllTextAsync(Path.Combine(folder.Path, "copy.db"), "half");
        var made = new DateTimeOffset(Directory.GetLastWriteTimeUtc(folder.Path), TimeSpan.Zero);

        AsideFolder.DropOld(shop.Folder, made.AddHours(23));
        Assert.True(File.Exists(file) && Directory.Exists(folder.Path));
        AsideFolder.DropOld(shop.Folder, made.AddHours(25));
        Assert.False(File.Exists(file) || Directory.Exists(folder.Path));
    }

    [Theory]
    [InlineData("changed", "SHA-256")]
    [InlineData("torn", "")]
    [InlineData("picture gone", "1 of")]
    [InlineData("unreadable", "Guid")]
    public async Task Rehearse_BackupThatWouldNotHelp_IsSeenOnTodayAndTriedAgainTheNextDay(string trouble, string said)
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var made = shop.Get<KeepBackup>().RunNow();
        Spoil(made.File, trouble);
        File.SetLastWriteTimeUtc(made.File, shop.Clock.GetUtcNow().UtcDateTime);

        Assert.False(await shop.Get<RehearseRestore>().RunAsync());

        var trial = (await shop.Get<TodayView>().LoadAsync()).Backup.Trial!;
        Assert.False(trial.IsGood);
        Assert.Contains(said, trial.Words, StringComparison.Ordinal);
        Assert.Null(await shop.Get<RehearseRestore>().RunAsync());
        shop.Clock.Advance(TimeSpan.FromDays(1));
        Assert.False(await shop.Get<RehearseRestore>().RunAsync());
    }

    /// <summary>A start on an empty folder, or without the disk of the pictures, takes nothing from beside the backups; erasing does.</summary>
    [Theory]
    [InlineData("")]
    [InlineData("a long enough passphrase")]
    public async Task Run_PicturesNotThere_StayBesideTheBackupsUntilTheyAreErased(string passphrase)
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var settings = new HostSettings { DataFolder = shop.Folder, BackupPassphrase = passphrase };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        var check = new BackupCheck(keep, settings, shop.Clock);
        void Make()
        {
            shop.Clock.Advance(TimeSpan.FromSeconds(1));
            keep.RunNow();
        }
        Make();
        var (live, mirror) = (Path.Combine(shop.Folder, "pictures"), Path.Combine(keep.Folder, "pictures"));
        var kept = Directory.GetFiles(mirror).Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(kept);

        Directory.Move(live, live + "-unmounted");
        Make();
        Assert.Equal(kept, Directory.GetFiles(mirror).Order(StringComparer.Ordinal));
        Assert.Equal((1, HealthStatus.Degraded), (keep.Lacking, (await check.CheckHealthAsync(new())).Status));
        Directory.CreateDirectory(live);
        Make();
        Assert.Equal(kept, Directory.GetFiles(mirror).Order(StringComparer.Ordinal));

        Directory.Delete(live);
        Directory.Move(live + "-unmounted", live);
        await using var context = await shop.ContextAsync();
        shop.Get<PictureFolder>().Delete((await context.Pictures.SingleAsync()).Id);
        Make();
        Assert.Empty(Directory.GetFiles(mirror));
        Assert.Equal((0, HealthStatus.Healthy), (keep.Lacking, (await check.CheckHealthAsync(new())).Status));
    }

    private static async Task AddPictureAsync(TestShop shop)
    {
        var added = await shop.Get<CommandRunner>()
            .RunAsync("Logo", Allowed.System, Asked.BySystem(), 1, work => shop.Get<DemoLogo>().AddToAsync(work, default));
        Assert.True(added.IsOk);
    }

    private static void Spoil(string file, string trouble)
    {
        if (trouble == "picture gone")
        {
            File.Delete(Directory.GetFiles(Path.Combine(Path.GetDirectoryName(file)!, "pictures"), "*.clean")[0]);
            return;
        }
        if (trouble == "unreadable")
        {
            // Sound for SQLite, and no picture has such an id.
            using var database = new SqliteConnection($"Data Source={file};Pooling=False;Foreign Keys=False");
            database.Open();
            using var change = database.CreateCommand();
            change.CommandText = "UPDATE Pictures SET Id = 'no id'";
            change.ExecuteNonQuery();
            File.Delete(file + ".sha256");
            return;
        }
        var bytes = File.ReadAllBytes(file);
        if (trouble == "torn")
            File.Delete(file + ".sha256");
        File.WriteAllBytes(file, trouble == "torn" ? bytes[..(bytes.Length / 2)] : [.. bytes[..^1], (byte)~bytes[^1]]);
    }

    [Fact]
    public async Task BackupCheck_BeforeAndAfterTheFirstBackup_WarnsWhenThePastDayAndAHalfIsInNone()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings { DataFolder = shop.Folder, BackupHour = 10 };
        var made = File.GetCreationTimeUtc(ShopDatabase.FileIn(shop.Folder));
        var clock = new FakeTimeProvider(new DateTimeOffset(made));
        var keep = new KeepBackup(settings, clock, NullLogger<KeepBackup>.Instance);
        var check = new BackupCheck(keep, settings, clock);
        Assert.Equal(HealthStatus.Healthy, (await check.CheckHealthAsync(new())).Status);
        clock.Advance(TimeSpan.FromHours(37));
        Assert.Equal(HealthStatus.Degraded, (await check.CheckHealthAsync(new())).Status);
        var backup = keep.RunNow();
        File.SetLastWriteTimeUtc(backup.File, clock.GetUtcNow().UtcDateTime);
        Assert.Equal(HealthStatus.Healthy, (await check.CheckHealthAsync(new())).Status);
        clock.Advance(TimeSpan.FromHours(37));
        Assert.Equal(HealthStatus.Degraded, (await check.CheckHealthAsync(new())).Status);
    }

    [Fact]
    public async Task Commands_BackupWipeRestore_BringBackWhatWasThere()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings { DataFolder = shop.Folder };
        await shop.WorkerAsync(WorkerRole.Owner);
        var said = new StringWriter();
        Assert.Equal(0, SafetyCommands.Run(["backup"], settings, shop.Clock, said));
        var file = said.ToString().Split('\n')[0];
        await using (var context = await shop.ContextAsync())
            await context.Users.ExecuteDeleteAsync();
        Assert.Equal(0, SafetyCommands.Run(["verify", file], settings, shop.Clock, said));
        Assert.Equal(0, SafetyCommands.Run(["restore", file], settings, shop.Clock, said));
        await using var restored = await shop.ContextAsync();
        await GuardedStart.RunAsync(restored, shop.Folder, shop.Clock.GetUtcNow(), CancellationToken.None);
        Assert.Equal(1, await restored.Users.CountAsync());
        Assert.Single(Directory.GetFiles(shop.Folder, "before-restore-*.db"));
    }

    [Fact]
    public async Task Commands_WhileAServerRuns_AreRefused()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings { DataFolder = shop.Folder };
        using var running = ProcessLock.Take(shop.Folder);
        foreach (var args in new string[][] { ["backup"], ["restore", "x.db"] })
        {
            var said = new StringWriter();
            Assert.Equal(1, SafetyCommands.Run(args, settings, shop.Clock, said));
            Assert.Contains("already running", said.ToString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Commands_BrokenOrNoFile_ChangeNothing()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings { DataFolder = shop.Folder };
        SqliteConnection.ClearAllPools();
        var before = await File.ReadAllBytesAsync(ShopDatabase.FileIn(shop.Folder));
        var broken = Path.Combine(shop.Folder, "broken.db");
        await File.WriteAllBytesAsync(broken, [.. before.Take(before.Length / 2).Reverse()]);
        foreach (var file in new[] { broken, Path.Combine(shop.Folder, "nowhere.db") })
        {
            Assert.Equal(1, SafetyCommands.Run(["verify", file], settings, shop.Clock, TextWriter.Null));
            Assert.Equal(1, SafetyCommands.Run(["restore", file], settings, shop.Clock, TextWriter.Null));
        }
        Assert.Equal(2, SafetyCommands.Run(["restore"], settings, shop.Clock, TextWriter.Null));
        Assert.Equal(before, await File.ReadAllBytesAsync(ShopDatabase.FileIn(shop.Folder)));
    }
}
