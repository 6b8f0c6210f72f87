using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Hosting;
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
