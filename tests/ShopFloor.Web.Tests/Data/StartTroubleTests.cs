using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>What keeps the program from starting is said in one line, and nothing is begun in its place.</summary>
public sealed class StartTroubleTests
{
    [Theory]
    [InlineData("pictures")]
    [InlineData("backups")]
    [InlineData("erased-customers.txt")]
    [InlineData("shopfloor.db-wal")]
    public async Task Run_DatabaseIsGoneWhereAShopWas_BeginsNoNewOne(string trace)
    {
        await using var shop = await TestShop.EmptyAsync();
        SqliteConnection.ClearAllPools();
        foreach (var file in Directory.GetFiles(shop.Folder, "shopfloor.db*"))
            File.Delete(file);
        var left = Path.Combine(shop.Folder, trace);
        if (trace is "pictures" or "backups")
            left = Path.Combine(Directory.CreateDirectory(left).FullName, "one");
        await File.WriteAllTextAsync(left, "of the shop");
        foreach (var isEmpty in new[] { false, true })
        {
            if (isEmpty)
                await File.WriteAllBytesAsync(ShopDatabase.FileIn(shop.Folder), []);
            var refused = await Assert.ThrowsAsync<InvalidDataException>(() => RunAsync(shop));
            Assert.Contains(trace, refused.Message, StringComparison.Ordinal);
            Assert.Contains("restore", refused.Message, StringComparison.Ordinal);
            Assert.Equal("of the shop", await File.ReadAllTextAsync(left));
            Assert.Equal(isEmpty, File.Exists(ShopDatabase.FileIn(shop.Folder)));
        }

        var settings = new HostSettings { DataFolder = shop.Folder };
        Assert.Equal(0, SafetyCommands.Run(["anew"], settings, shop.Clock, TextWriter.Null));
        var aside = Assert.Single(Directory.GetDirectories(shop.Folder, "before-anew-*"));
        Assert.Equal("of the shop", await File.ReadAllTextAsync(left.Replace(shop.Folder, aside, StringComparison.Ordinal)));
        Assert.True((await RunAsync(shop)).Created);
        // Where a shop is, the word does nothing.
        Assert.Equal(1, SafetyCommands.Run(["anew"], settings, shop.Clock, TextWriter.Null));
        Assert.False((await RunAsync(shop)).Created);
    }

    /// <summary>Only another program that has the file is said to be running; all else is said as it is.</summary>
    [Fact]
    public async Task Lock_FolderCannotBeUsed_IsNotTakenForASecondProgram()
    {
        await using var shop = await TestShop.EmptyAsync();
        File.CreateSymbolicLink(Path.Combine(shop.Folder, "in-use.lock"), Path.Combine(shop.Folder, "nowhere", "file"));
        var no = Assert.Throws<IOException>(() => ProcessLock.Take(shop.Folder));
        Assert.DoesNotContain("already running", no.Message, StringComparison.Ordinal);
        Assert.Contains($"The data folder {shop.Folder} cannot be used", no.Message, StringComparison.Ordinal);
        File.Delete(Path.Combine(shop.Folder, "in-use.lock"));
        Directory.CreateDirectory(Path.Combine(shop.Folder, "in-use.lock"));
        Assert.Contains(
            "cannot be used",
            Assert.Throws<IOException>(() => ProcessLock.Take(shop.Folder)).Message,
            StringComparison.Ordinal
        );
    }

    [Theory]
    [InlineData("database", "cannot be opened")]
    [InlineData("lock", "cannot be used")]
    [InlineData("setting", "ShopFloor:BackupHour")]
    [InlineData("setting out of range", "ShopFloor:BackupsKept must be from 1 to 10000.")]
    public async Task Start_ThatCannotBe_IsOneLineAndAnExitCode(string trouble, string words)
    {
        await using var shop = await TestShop.EmptyAsync();
        SqliteConnection.ClearAllPools();
        var start = new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, "--urls", "http://127.0.0.1:0"])
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        start.Environment["ShopFloor__DataFolder"] = shop.Folder;
        if (trouble == "database")
        {
            // A folder where the log of changes is to be: SQLite cannot open it.
            File.Delete(ShopDatabase.FileIn(shop.Folder) + "-wal");
            Directory.CreateDirectory(ShopDatabase.FileIn(shop.Folder) + "-wal");
        }
        else if (trouble == "lock")
            Directory.CreateDirectory(Path.Combine(shop.Folder, "in-use.lock"));
        else if (trouble == "setting")
            start.Environment["ShopFloor__BackupHour"] = "abc";
        else
            start.Environment["ShopFloor__BackupsKept"] = "0";
        using var program = Process.Start(start)!;
        var output = program.StandardOutput.ReadToEndAsync();
        var said = (await program.StandardError.ReadToEndAsync()).Trim();
        await program.WaitForExitAsync();
        Assert.Equal(1, program.ExitCode);
        Assert.Contains(words, said, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', said);
        Assert.DoesNotContain("   at ", await output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Folders_ThatTheProgramMakes_AreItsUsersAlone()
    {
        if (OperatingSystem.IsWindows())
            return;
        await using var shop = await TestShop.EmptyAsync();
        var (data, backups) = (Path.Combine(shop.Folder, "new", "data"), Path.Combine(shop.Folder, "elsewhere"));
        using (ProcessLock.Take(data))
            Backup.Make(ShopDatabase.FileIn(shop.Folder), backups, "today");
        foreach (var made in new[] { data, backups })
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(made));
    }

    private static async Task<StartReport> RunAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await GuardedStart.RunAsync(context, shop.Folder, shop.Clock.GetUtcNow(), CancellationToken.None);
    }
}
