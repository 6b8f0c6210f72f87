using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>A restore where something went wrong before.</summary>
public sealed class RestoreTests
{
    [Fact]
    public async Task Put_MainFileIsGoneAndItsLogIsLeft_TheLogIsNotPlayedIntoTheBackup()
    {
        await using var shop = await TestShop.EmptyAsync();
        await shop.WorkerAsync(WorkerRole.Owner);
        var live = ShopDatabase.FileIn(shop.Folder);
        var backup = Backup.Make(live, Path.Combine(shop.Folder, "backups"), "kept").File;
        // Another database's log, as a power cut leaves it: the connection is still open.
        var other = Path.Combine(shop.Folder, "other.db");
        await using (var writing = new SqliteConnection($"Data Source={other};Pooling=False"))
        {
            await writing.OpenAsync();
            await RunAsync(writing, "PRAGMA journal_mode = wal");
            await RunAsync(writing, "CREATE TABLE Strange (Id INTEGER PRIMARY KEY, Text TEXT)");
            for (var row = 0; row < 50; row++)
                await RunAsync(writing, $"INSERT INTO Strange (Text) VALUES ('{new string('x', 3000)}')");
            SqliteConnection.ClearAllPools();
            File.Delete(live);
            File.Copy(other + "-wal", live + "-wal", overwrite: true);
        }

        Assert.Null(Restore.Put(backup, shop.Folder, shop.Clock.GetUtcNow()));

        Backup.Verify(live);
        await using var context = await shop.ContextAsync();
        Assert.Equal(1, await context.Users.CountAsync());
        Assert.Single(Directory.GetFiles(shop.Folder, "before-restore-*.db-wal"));
    }

    private static async Task RunAsync(SqliteConnection connection, string sql)
    {
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync();
    }
}
