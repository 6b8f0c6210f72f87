using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>What lies beside the backups and the database does not know: erased before there was a list of what is erased, or another shop's.</summary>
public sealed class PictureMirrorTests
{
    /// <summary>What was erased before there was a list of it goes from beside the backups once, and is not missing.</summary>
    [Theory]
    [InlineData("")]
    [InlineData("a long enough passphrase")]
    public async Task Run_PictureErasedBeforeThereWasAList_GoesAndIsNotMissing(string passphrase)
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var settings = new HostSettings { DataFolder = shop.Folder, BackupPassphrase = passphrase };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        keep.RunNow();
        var mirror = Path.Combine(keep.Folder, "pictures");
        var own = Directory.GetFiles(mirror).Order(StringComparer.Ordinal).ToList();
        var list = Path.Combine(shop.Folder, "erased-pictures.txt");
        string Stray(string name) => Path.Combine(mirror, name + Path.GetExtension(own[0]));
        var lost = Directory.GetFiles(Path.Combine(shop.Folder, "pictures"))[0];
        var aside = Path.Combine(shop.Folder, Path.GetFileName(lost));
        File.Move(lost, aside);
        await File.WriteAllTextAsync(Stray($"{Guid.CreateVersion7():N}.clean"), "erased");
        // One that was erased since, by the version with the list, does not hide the older ones.
        await File.WriteAllTextAsync(list, $"{Guid.CreateVersion7():N}\n");
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        keep.RunNow();
        // One that the database knows and the data folder has lost stays, and is missing.
        Assert.Equal(1, keep.Lacking);
        Assert.Equal(own, Directory.GetFiles(mirror).Order(StringComparer.Ordinal));
        File.Move(aside, lost);

        // Once only: what comes there later is left alone, and is not missed where the database does not know it.
        await File.WriteAllTextAsync(Stray($"{Guid.CreateVersion7():N}.clean"), "not ours");
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        keep.RunNow();
        Assert.Equal((0, own.Count + 1), (keep.Lacking, Directory.GetFiles(mirror).Length));
    }

    /// <summary>A power cut can leave a copy short: it is written anew, and one that is short in the data folder never goes over the whole one.</summary>
    [Theory]
    [InlineData("")]
    [InlineData("a long enough passphrase")]
    public async Task Run_FileCutOff_IsWrittenAnewFromTheWholeOne(string passphrase)
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var settings = new HostSettings { DataFolder = shop.Folder, BackupPassphrase = passphrase };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        var made = keep.RunNow().File;
        var live = Directory.GetFiles(Path.Combine(shop.Folder, "pictures"), "*.clean").Single();
        var copy = Directory.GetFiles(Path.Combine(keep.Folder, "pictures"), "*.clean*").Single();
        var (whole, kept) = (await File.ReadAllBytesAsync(live), new FileInfo(copy).Length);

        await File.WriteAllBytesAsync(copy, (await File.ReadAllBytesAsync(copy))[..^1]);
        await Assert.ThrowsAsync<InvalidDataException>(() =>
            Rehearsal.RunAsync(made, shop.Folder, keep.Keys, shop.Clock.GetUtcNow(), default)
        );
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        keep.RunNow();
        Assert.Equal((kept, 0), (new FileInfo(copy).Length, keep.Lacking));

        await File.WriteAllBytesAsync(live, []);
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        keep.RunNow();
        Assert.Equal((kept, 1), (new FileInfo(copy).Length, keep.Lacking));
        Assert.Equal(1, PicturesBack.Put(made, shop.Folder, keep.Keys));
        Assert.Equal(whole, await File.ReadAllBytesAsync(live));
    }

    /// <summary>Files as they came are no longer kept: what an earlier version copied beside the backups goes, and is not missing.</summary>
    [Fact]
    public async Task Run_OriginalOfAPictureThatIsThere_GoesAndIsNotMissing()
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var keep = new KeepBackup(new HostSettings { DataFolder = shop.Folder }, shop.Clock, NullLogger<KeepBackup>.Instance);
        keep.RunNow();
        var mirror = Path.Combine(keep.Folder, "pictures");
        var kept = Directory.GetFiles(mirror);
        await File.WriteAllTextAsync(
            Path.ChangeExtension(kept.Single(f => f.EndsWith(".clean", StringComparison.Ordinal)), "original"),
            "x"
        );
        shop.Clock.Advance(TimeSpan.FromSeconds(1));
        keep.RunNow();
        Assert.Equal(0, keep.Lacking);
        Assert.Equal(kept.Order(StringComparer.Ordinal), Directory.GetFiles(mirror).Order(StringComparer.Ordinal));
    }

    /// <summary>A folder that was begun anew knows nothing of what lies beside the backups: nothing goes, on no day, and it is said.</summary>
    [Fact]
    public async Task Run_OnAFolderBegunAnew_TakesNothingOfTheFormerShop()
    {
        await using var shop = await TestShop.EmptyAsync();
        var keep = new KeepBackup(new HostSettings { DataFolder = shop.Folder }, shop.Clock, NullLogger<KeepBackup>.Instance);
        var mirror = Directory.CreateDirectory(Path.Combine(keep.Folder, "pictures")).FullName;
        var former = Path.Combine(mirror, $"{Guid.CreateVersion7():N}.clean");
        await File.WriteAllTextAsync(former, "of the former shop");
        for (var day = 0; day < 3; day++)
        {
            if (day == 1)
                await AddPictureAsync(shop);
            shop.Clock.Advance(TimeSpan.FromDays(1));
            keep.RunNow();
            Assert.Equal((1, true), (keep.Lacking, File.Exists(former)));
        }
    }

    private static async Task AddPictureAsync(TestShop shop)
    {
        var added = await shop.Get<CommandRunner>()
            .RunAsync("Logo", Allowed.System, Asked.BySystem(), 1, work => shop.Get<DemoLogo>().AddToAsync(work, default));
        Assert.True(added.IsOk);
    }
}
