using System.Security.Cryptography;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Logging.Abstractions;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Backups;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>Sealed files and sealed backups, and the page that shows backups.</summary>
public sealed class SealedBackupTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("shopfloor-seal-").FullName;
    private readonly SealKeys keys = new("five words are a passphrase");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(65535)]
    [InlineData(65536)]
    [InlineData(65537)]
    [InlineData(300_000)]
    public void Seal_AnyLength_OpensToTheSameBytesAndTellsNothing(int length)
    {
        var plain = Write("plain", [.. Enumerable.Range(0, length).Select(i => (byte)(i % 7))]);
        SealedFile.Seal(plain, Sealed, keys);
        var bytes = File.ReadAllBytes(Sealed);
        Assert.Equal(37 + length + 16 * Math.Max(1, (length + 65535) / 65536), bytes.Length);
        Assert.True(length < 100 || bytes.AsSpan().IndexOf(new byte[] { 0, 1, 2, 3, 4, 5, 6, 0, 1, 2 }) < 0);
        SealedFile.Open(Sealed, Opened, new SealKeys("five words are a passphrase"));
        Assert.Equal(File.ReadAllBytes(plain), File.ReadAllBytes(Opened));
    }

    /// <summary>Another passphrase, a bit turned anywhere, blocks cut off at their end, taken out or put in another order: nothing of it opens.</summary>
    [Fact]
    public void Open_NotAsItWasSealed_IsRefusedAndLeavesNothing()
    {
        SealedFile.Seal(Write("plain", RandomNumberGenerator.GetBytes(200_000)), Sealed, keys);
        var good = File.ReadAllBytes(Sealed);
        const int head = 37;
        const int block = 65536 + 16;
        byte[] Turned(int at) => [.. good[..at], (byte)(good[at] ^ 1), .. good[(at + 1)..]];
        byte[] Swapped() =>
            [.. good[..head], .. good[(head + block)..(head + 2 * block)], .. good[head..(head + block)], .. good[(head + 2 * block)..]];
        byte[][] bad =
        [
            Turned(0),
            Turned(8),
            Turned(12),
            Turned(13),
            Turned(30),
            Turned(head),
            Turned(head + block + 5),
            Turned(good.Length - 1),
            good[..(head + block)],
            good[..(head + 3)],
            good[..20],
            [],
            [.. good[..head], .. good[(head + block)..]],
            Swapped(),
            [.. good, 0],
        ];
        foreach (var bytes in bad)
        {
            Write("bad.sealed", bytes);
            Assert.Throws<InvalidDataException>(() => SealedFile.Open(Path.Combine(folder, "bad.sealed"), Opened, keys));
            Assert.False(File.Exists(Opened));
        }
        Assert.Throws<InvalidDataException>(() => SealedFile.Open(Sealed, Opened, new SealKeys("Five words are a passphrase")));
        Assert.Empty(Directory.GetFiles(folder, "*.part"));
    }

    /// <summary>PBKDF2 with HMAC-SHA-256 by the second test vector of RFC 7914, section 11; its first 32 bytes are our length.</summary>
    [Fact]
    public void For_TestVector_IsTheKeyOfTheStandard() =>
        Assert.StartsWith(
            "4DDCD8F60B98BE21830CEE5EF22701F9641A4418D04C0414AEFF08876B34AB56",
            Convert.ToHexString(new SealKeys("Password").For("NaCl"u8.ToArray(), 80_000)),
            StringComparison.Ordinal
        );

    [Fact]
    public async Task Commands_SealedBackup_RestoresWithThePassphraseOnly()
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.WorkerAsync(WorkerRole.Owner);
        await AddPictureAsync(shop);
        var file = Write("passphrase", "five words are a passphrase\n"u8.ToArray());
        var settings = new HostSettings { DataFolder = shop.Folder, BackupPassphraseFile = file };
        var said = new StringWriter();
        Assert.Equal(0, SafetyCommands.Run(["backup"], settings, shop.Clock, said));
        var backup = said.ToString().Split('\n')[0];
        Assert.EndsWith(".db.sealed", backup, StringComparison.Ordinal);
        Assert.Equal([ShopDatabase.FileIn(shop.Folder)], Directory.GetFiles(shop.Folder, "*.db", SearchOption.AllDirectories));
        var pictures = Directory.GetFiles(Path.Combine(Path.GetDirectoryName(backup)!, "pictures"));
        Assert.All(pictures, p => Assert.EndsWith(".sealed", p, StringComparison.Ordinal));
        var unknown = new HostSettings { DataFolder = shop.Folder };
        var wrong = new HostSettings { DataFolder = shop.Folder, BackupPassphrase = "another passphrase" };
        foreach (var command in new[] { "verify", "restore" })
        foreach (var other in new[] { unknown, wrong })
            Assert.Equal(1, SafetyCommands.Run([command, backup], other, shop.Clock, TextWriter.Null));
        await using (var context = await shop.ContextAsync())
            await context.Users.ExecuteDeleteAsync();
        Assert.Equal(0, SafetyCommands.Run(["verify", backup], settings, shop.Clock, said));
        Assert.Equal(0, SafetyCommands.Run(["restore", backup], settings, shop.Clock, said));
        await using var restored = await shop.ContextAsync();
        Assert.Equal(1, await restored.Users.CountAsync());
        var target = Path.Combine(folder, "pictures");
        Assert.Equal(0, SafetyCommands.Run(["unseal", Path.GetDirectoryName(pictures[0])!, target], settings, shop.Clock, said));
        foreach (var picture in Directory.GetFiles(Path.Combine(shop.Folder, "pictures")))
            Assert.Equal(
                await File.ReadAllBytesAsync(picture),
                await File.ReadAllBytesAsync(Path.Combine(target, Path.GetFileName(picture)))
            );
        Assert.Empty(Directory.GetFiles(shop.Folder, "opened-*"));
    }

    [Fact]
    public async Task Rehearse_SealedBackup_IsOpenedPutBackAndItsPicturesToo()
    {
        await using var shop = await TestShop.EmptyAsync();
        await AddPictureAsync(shop);
        var settings = new HostSettings { DataFolder = shop.Folder, BackupPassphrase = "five words are a passphrase" };
        var keep = new KeepBackup(settings, shop.Clock, NullLogger<KeepBackup>.Instance);
        var made = keep.RunNow();
        var back = await Rehearsal.RunAsync(made.File, shop.Folder, keep.Keys, shop.Clock.GetUtcNow(), default);
        Assert.Equal((Path.GetFileName(made.File), 1), (back.File, back.Pictures));
        await Assert.ThrowsAsync<InvalidDataException>(() =>
            Rehearsal.RunAsync(made.File, shop.Folder, new SealKeys("another passphrase"), shop.Clock.GetUtcNow(), default)
        );
    }

    [Fact]
    public async Task Page_MakeCheckAndTry_ShowWhatIsThereAndRefuseOthers()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var bench = await shop.WorkerAsync(WorkerRole.Bench);
        var (make, view) = (shop.Get<MakeBackup>(), shop.Get<BackupListView>());
        Assert.Equal("no-right", (await make.RunAsync(Asked.By(bench), BackupWish.Make)).Refusals[0].Code);
        Assert.Equal("backup-missing", (await make.RunAsync(Asked.By(owner), BackupWish.TryRestore)).Refusals[0].Code);
        Assert.True((await make.RunAsync(Asked.By(owner), BackupWish.Make)).IsOk);
        Assert.True((await make.RunAsync(Asked.By(owner), BackupWish.TryRestore)).IsOk);
        var row = Assert.Single((await view.LoadAsync()).Rows);
        Assert.Equal((true, false), (row.Trial!.IsGood, row.IsSealed));
        Assert.True((await view.CheckAsync(row.Name)).IsOk);
        await File.AppendAllTextAsync(view.Find(row.Name)!.FullName, "x");
        Assert.Contains("SHA-256", (await view.CheckAsync(row.Name)).Refusals[0].Text, StringComparison.Ordinal);
        Assert.Equal("backup-missing", (await view.CheckAsync("../shopfloor.db")).Refusals[0].Code);
    }

    [Fact]
    public void Check_Passphrase_IsLongNamedOnceAndThere()
    {
        static int Faults(HostSettings s) => new HostSettingsCheck().Validate(null, s).Failures?.Count() ?? 0;
        Assert.Equal(0, Faults(new HostSettings { BackupPassphrase = "twelve chars" }));
        Assert.Equal(1, Faults(new HostSettings { BackupPassphrase = "short" }));
        Assert.Equal(1, Faults(new HostSettings { BackupPassphraseFile = Path.Combine(folder, "nowhere") }));
        Assert.Equal(1, Faults(new HostSettings { BackupPassphraseFile = Write("empty", []) }));
        Assert.Equal(
            1,
            Faults(new HostSettings { BackupPassphraseFile = Write("good", "twelve chars"u8.ToArray()), BackupPassphrase = "twelve chars" })
        );
    }

    private string Sealed => Path.Combine(folder, "file.sealed");

    private string Opened => Path.Combine(folder, "opened");

    private string Write(string name, byte[] bytes)
    {
        var file = Path.Combine(folder, name);
        File.WriteAllBytes(file, bytes);
        return file;
    }

    private static async Task AddPictureAsync(TestShop shop) =>
        Assert.True(
            (
                await shop.Get<CommandRunner>()
                    .RunAsync("Logo", Allowed.System, Asked.BySystem(), 1, work => shop.Get<DemoLogo>().AddToAsync(work, default))
            ).IsOk
        );
}
