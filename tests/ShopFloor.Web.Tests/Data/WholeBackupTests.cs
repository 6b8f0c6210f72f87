using System.IO.Compression;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Backups;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>A download with pictures, unpacked on an empty machine and put back, brings the pictures too; sealed or not.</summary>
public sealed class WholeBackupTests
{
    [Theory]
    [InlineData("")]
    [InlineData("a long enough passphrase")]
    public async Task Download_UnpackedAndRestoredElsewhere_BringsThePicturesBack(string passphrase)
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.Get<CommandRunner>()
            .RunAsync("Logo", Allowed.System, Asked.BySystem(), 1, work => shop.Get<DemoLogo>().AddToAsync(work, default));
        HostSettings At(string folder) => new() { DataFolder = folder, BackupPassphrase = passphrase };
        var keep = new KeepBackup(At(shop.Folder), shop.Clock, Microsoft.Extensions.Logging.Abstractions.NullLogger<KeepBackup>.Instance);
        var made = new FileInfo(keep.RunNow().File);
        using var zipped = new MemoryStream();
        await WholeBackup.WriteAsync(made, zipped, default);
        var (unpacked, empty) = (Path.Combine(shop.Folder, "unpacked"), Path.Combine(shop.Folder, "empty"));
        Directory.CreateDirectory(empty);
        await ZipFile.ExtractToDirectoryAsync(new MemoryStream(zipped.ToArray()), unpacked);

        var said = new StringWriter();
        var file = Path.Combine(unpacked, made.Name);
        // Where no shop has been, the wrong folder is likelier than a new machine.
        Assert.Equal(1, SafetyCommands.Run(["restore", file], At(empty), shop.Clock, said));
        Assert.Contains(empty, said.ToString(), StringComparison.Ordinal);
        Assert.Equal(["in-use.lock"], Directory.GetFileSystemEntries(empty).Select(Path.GetFileName));
        Assert.Equal(0, SafetyCommands.Run(["restore", file, "anew"], At(empty), shop.Clock, said));

        var pictures = Directory.GetFiles(Path.Combine(shop.Folder, "pictures"));
        Assert.NotEmpty(pictures);
        Assert.Contains($"{pictures.Length} pictures", said.ToString(), StringComparison.Ordinal);
        foreach (var picture in pictures)
            Assert.Equal(
                await File.ReadAllBytesAsync(picture),
                await File.ReadAllBytesAsync(Path.Combine(empty, "pictures", Path.GetFileName(picture)))
            );
        Assert.Equal(pictures.Length, Directory.GetFiles(Path.Combine(empty, "pictures")).Length);
        var rehearsed = await Rehearsal.RunAsync(file, shop.Folder, keep.Keys, shop.Clock.GetUtcNow(), default);
        Assert.True(rehearsed.Pictures > 0);
        // What is there already stays as it is.
        Assert.Equal(0, SafetyCommands.Run(["restore", file], At(empty), shop.Clock, said));
        Assert.Contains("\n0 pictures", said.ToString(), StringComparison.Ordinal);
    }
}
