using Microsoft.Extensions.Diagnostics.HealthChecks;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>What goes wrong beside the database is said, tried again, and keeps nothing else from being done.</summary>
public sealed class BackupTroubleTests
{
    [Fact]
    public async Task RunIfDue_PicturesCannotBeCopied_IsSaidTriedAgainAndOldOnesGoAllTheSame()
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var settings = new HostSettings
        {
            DataFolder = shop.Folder,
            BackupHour = 0,
            BackupsKept = 2,
        };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        var check = new BackupCheck(keep, settings, shop.Clock);
        // A file where their folder is to be.
        var mirror = Path.Combine(Directory.CreateDirectory(keep.Folder).FullName, "pictures");
        await File.WriteAllTextAsync(mirror, "in the way");
        for (var day = 0; day < 4; day++)
        {
            Assert.NotNull(keep.RunIfDue());
            shop.Clock.Advance(TimeSpan.FromDays(1));
        }
        Assert.Equal(2, keep.All.Count);
        Assert.NotNull(keep.PictureTrouble);
        Assert.Equal(HealthStatus.Degraded, (await check.CheckHealthAsync(new())).Status);
        Assert.NotNull(keep.RunIfDue());

        File.Delete(mirror);
        Assert.Null(keep.RunIfDue());
        Assert.Null(keep.PictureTrouble);
        Assert.NotEmpty(Directory.GetFiles(mirror));
        Assert.Equal(HealthStatus.Healthy, (await check.CheckHealthAsync(new())).Status);
    }

    /// <summary>The owner makes one while the day's own is on its way: both are there, and the sealing of one does not take the other's file.</summary>
    [Fact]
    public async Task Run_TwoAtOnce_MakesBoth()
    {
        await using var shop = await TestShop.EmptyAsync();
        var settings = new HostSettings
        {
            DataFolder = shop.Folder,
            BackupHour = 0,
            BackupPassphrase = "a long enough passphrase",
        };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        for (var day = 1; day <= 5; day++)
        {
            await Task.WhenAll((Task)Task.Run(keep.RunIfDue), Task.Run(keep.RunNow));
            Assert.Equal(2 * day, keep.All.Count);
            shop.Clock.Advance(TimeSpan.FromDays(1));
        }
    }

    private static async Task AddPictureAsync(TestShop shop)
    {
        var added = await shop.Get<CommandRunner>()
            .RunAsync("Logo", Allowed.System, Asked.BySystem(), 1, work => shop.Get<DemoLogo>().AddToAsync(work, default));
        Assert.True(added.IsOk);
    }
}
