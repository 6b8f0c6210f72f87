using System.Diagnostics;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>The database is checked before it is used, backed up before it is changed, and never taken backwards.</summary>
public sealed class GuardedStartTests
{
    [Fact]
    public async Task Run_SecondTime_ChangesNothingAndNeedsNoBackup()
    {
        await using var shop = await TestShop.EmptyAsync();
        var report = await RunAsync(shop);
        Assert.Equal((false, 0, null), (report.Created, report.Applied.Count, report.BackupFile));
    }

    [Fact]
    public async Task Model_OfToday_HasAllItsMigrations()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using var context = await shop.ContextAsync();
        Assert.False(context.Database.HasPendingModelChanges());
    }

    [Fact]
    public async Task Run_MigrationMissing_BacksUpFirstAlsoWithALockLeftBehind()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using (var context = await shop.ContextAsync())
        {
            // One connection throughout: foreign keys are switched off for it alone.
            await context.Database.OpenConnectionAsync();
            // As if an older program had left a database in which this program's last migration is still to come.
            var tables = await context
                .Database.SqlQueryRaw<string>(
                    "SELECT name AS Value FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%' AND name <> '__EFMigrationsHistory'"
                )
                .ToListAsync();
            await context.Database.ExecuteSqlRawAsync("PRAGMA foreign_keys = OFF");
            foreach (var table in tables)
                await context.Database.ExecuteSqlRawAsync($"DROP TABLE \"{table}\"".Replace("{", "", StringComparison.Ordinal));
            await context.Database.ExecuteSqlRawAsync("DELETE FROM __EFMigrationsHistory");
            await context.Database.ExecuteSqlRawAsync("CREATE TABLE __EFMigrationsLock (Id INTEGER PRIMARY KEY, Timestamp TEXT NOT NULL)");
            await context.Database.ExecuteSqlRawAsync("INSERT INTO __EFMigrationsLock VALUES (1, '2020-01-01')");
        }
        // As earlier versions, and starts that were killed, left them.
        var folder = Directory.CreateDirectory(Path.Combine(shop.Folder, "backups")).FullName;
        for (var day = 1; day <= 9; day++)
            await File.WriteAllTextAsync(Path.Combine(folder, $"before-migration-2026020{day}-090000.db"), "older");
        var report = await RunAsync(shop);
        Assert.NotEmpty(report.Applied);
        Assert.True(File.Exists(report.BackupFile));
        Backup.Verify(report.BackupFile!);
        Assert.Equal(3, Directory.GetFiles(folder, "before-migration-*.db").Length);
    }

    [Theory]
    [InlineData("shopfloor.db.restoring")]
    [InlineData("before-restore-20260304-090000.db")]
    public async Task Run_RestoreWasBrokenOff_DoesNotBeginEmpty(string left)
    {
        await using var shop = await TestShop.EmptyAsync();
        SqliteConnection.ClearAllPools();
        File.Move(ShopDatabase.FileIn(shop.Folder), Path.Combine(shop.Folder, left));
        var refused = await Assert.ThrowsAsync<InvalidDataException>(() => RunAsync(shop));
        Assert.Contains(left, refused.Message, StringComparison.Ordinal);
        Assert.False(File.Exists(ShopDatabase.FileIn(shop.Folder)));
        File.Move(Path.Combine(shop.Folder, left), ShopDatabase.FileIn(shop.Folder));
        Assert.False((await RunAsync(shop)).Created);
    }

    [Fact]
    public async Task Run_NewerDatabase_IsRefusedInWords()
    {
        await using var shop = await TestShop.EmptyAsync();
        await using (var context = await shop.ContextAsync())
            await context.Database.ExecuteSqlRawAsync("INSERT INTO __EFMigrationsHistory VALUES ('99990101000000_Later', '99.0.0')");
        var refused = await Assert.ThrowsAsync<InvalidDataException>(() => RunAsync(shop));
        Assert.Contains("newer ShopFloor", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Run_DamagedDatabase_IsRefusedInWords()
    {
        await using var shop = await ShopOrders.DemoAsync();
        await using (var context = await shop.ContextAsync())
            await context.Database.ExecuteSqlRawAsync("PRAGMA wal_checkpoint(TRUNCATE)");
        SqliteConnection.ClearAllPools();
        await using (var file = new FileStream(ShopDatabase.FileIn(shop.Folder), FileMode.Open))
        {
            file.Position = 40 * 4096;
            file.Write(new byte[20 * 4096]);
        }
        var refused = await Assert.ThrowsAsync<InvalidDataException>(() => RunAsync(shop));
        Assert.Contains("damaged", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Make_OfTheLiveDatabase_IsSoundAndNeverOverAnother()
    {
        await using var shop = await ShopOrders.DemoAsync();
        var folder = Path.Combine(shop.Folder, "backups");
        var made = Backup.Make(ShopDatabase.FileIn(shop.Folder), folder, "today");
        await using (var copy = new SqliteConnection($"Data Source={made.File};Pooling=False"))
        {
            await copy.OpenAsync();
            await using var count = copy.CreateCommand();
            count.CommandText = "SELECT count(*) FROM Journal";
            await using var context = await shop.ContextAsync();
            Assert.Equal(await context.Journal.LongCountAsync(), await count.ExecuteScalarAsync());
        }
        Assert.Throws<IOException>(() => Backup.Make(ShopDatabase.FileIn(shop.Folder), folder, "today"));
        Assert.Single(Directory.GetFiles(folder));
    }

    [Fact]
    public async Task Lock_SecondProcess_IsRefusedInWords()
    {
        await using var shop = await TestShop.EmptyAsync();
        using var first = ProcessLock.Take(shop.Folder);
        Assert.Contains(
            "already running",
            Assert.Throws<IOException>(() => ProcessLock.Take(shop.Folder)).Message,
            StringComparison.Ordinal
        );
    }

    [Fact]
    public async Task Start_OnAFolderInUse_IsOneLineAndAnExitCode()
    {
        await using var shop = await TestShop.EmptyAsync();
        using var first = ProcessLock.Take(shop.Folder);
        var start = new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, "--urls", "http://127.0.0.1:0"])
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        start.Environment["ShopFloor__DataFolder"] = shop.Folder;
        using var second = Process.Start(start)!;
        var output = second.StandardOutput.ReadToEndAsync();
        var said = await second.StandardError.ReadToEndAsync();
        await second.WaitForExitAsync();
        Assert.Equal(1, second.ExitCode);
        Assert.Equal($"Another ShopFloor is already running on {shop.Folder}. Stop it first.", said.Trim());
        Assert.DoesNotContain("   at ", await output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Database_MovedAwayUnderTheProgram_IsMissedAndNoneIsBegunInItsPlace()
    {
        await using var shop = await TestShop.EmptyAsync();
        SqliteConnection.ClearAllPools();
        var file = ShopDatabase.FileIn(shop.Folder);
        File.Move(file, file + ".away");
        await using var context = await shop.ContextAsync();
        // SQLITE_CANTOPEN, https://www.sqlite.org/rescode.html.
        var no = await Assert.ThrowsAsync<SqliteException>(() => context.Users.AnyAsync());
        Assert.Equal(14, no.SqliteErrorCode);
        Assert.False(File.Exists(file));
    }

    private static async Task<StartReport> RunAsync(TestShop shop)
    {
        await using var context = await shop.ContextAsync();
        return await GuardedStart.RunAsync(context, shop.Folder, shop.Clock.GetUtcNow(), CancellationToken.None);
    }
}
