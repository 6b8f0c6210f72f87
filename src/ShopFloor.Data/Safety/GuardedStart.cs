using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace ShopFloor.Data.Safety;

/// <summary>What the start found and did.</summary>
/// <param name="Created">True when there was no database before.</param>
/// <param name="Applied">Migrations that were applied now.</param>
/// <param name="BackupFile">The backup made before them; null when none was needed.</param>
public sealed record StartReport(bool Created, IReadOnlyList<string> Applied, string? BackupFile);

/// <summary>Brings the database up to this program's form: checked, backed up first, never downwards.</summary>
public static class GuardedStart
{
    private const string BeforeMigration = "before-migration-";
    private const int KeptBeforeMigration = 3;

    // Below what deploy/shopfloor.service allows for the whole start, 15 min: check and copy come before it.
    private static readonly TimeSpan Limit = TimeSpan.FromMinutes(12);

    /// <summary>Checks and migrates. The caller holds the <see cref="ProcessLock"/> of the data folder.</summary>
    /// <exception cref="InvalidDataException">The database is damaged, newer than this program, or missing where a shop was.</exception>
    public static async Task<StartReport> RunAsync(ShopContext context, string dataFolder, DateTimeOffset now, CancellationToken cancel)
    {
        var file = ShopDatabase.FileIn(dataFolder);
        var existed = FormerShop.HasDatabase(dataFolder);
        if (existed)
            await CheckAsync(context, cancel);
        else
            BeginWhereNoShopWas(file, dataFolder);
        var pending = (await context.Database.GetPendingMigrationsAsync(cancel)).ToList();
        string? backup = null;
        if (pending.Count > 0)
        {
            var folder = Path.Combine(dataFolder, "backups");
            if (existed)
            {
                backup = Backup.Make(file, folder, $"{BeforeMigration}{now.UtcDateTime:yyyyMMdd-HHmmss}").File;
                // Starts that are killed in the middle make one each: the first of them, and those of before, stay until a start succeeds.
                Prune(folder, first: KeptBeforeMigration + 1, last: 1);
            }
            await MigrateAsync(context, existed, cancel);
            Prune(folder, first: 0, last: KeptBeforeMigration);
        }
        // The mode stands in the file itself, and a restored backup is a file that was made without it.
        await ScalarAsync(context, "PRAGMA journal_mode = wal", cancel);
        await VerifyPragmasAsync(context, cancel);
        return new StartReport(!existed, pending, backup);
    }

    // An empty database beside the log of a lost one would make SQLite drop that log.
    private static void BeginWhereNoShopWas(string file, string dataFolder)
    {
        if (Restore.BrokenOff(dataFolder) is { } left)
            throw new InvalidDataException(
                $"There is no database, but {left} lies there: a restore was broken off. Restore the backup once more, or put all aside with the command 'anew' to begin with an empty database; nothing was changed."
            );
        if (FormerShop.TraceIn(dataFolder) is { } trace)
            throw new InvalidDataException(
                $"There is no database in {dataFolder}, or an empty file, but {trace} of a shop lies there. Bring the database back, or restore the last backup with the command 'restore FILE'; to begin a new shop here, put what is left aside with the command 'anew'. Nothing was changed."
            );
        ShopDatabase.Begin(file);
    }

    private static void Prune(string folder, int first, int last)
    {
        if (!Directory.Exists(folder))
            return;
        var all = Directory.GetFiles(folder, BeforeMigration + "*.db").Order(StringComparer.Ordinal).ToList();
        foreach (var old in all.Skip(first).SkipLast(last))
            File.Delete(old);
    }

    private static async Task MigrateAsync(ShopContext context, bool existed, CancellationToken cancel)
    {
        // A process that died while migrating leaves its row behind, and migrating would wait for ever. The process lock proves nobody else migrates.
        if (existed)
            await context.Database.ExecuteSqlRawAsync("DROP TABLE IF EXISTS __EFMigrationsLock", cancel);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(Limit);
        await context.Database.MigrateAsync(limit.Token);
    }

    private static async Task CheckAsync(ShopContext context, CancellationToken cancel)
    {
        var answer = await QuickCheckAsync(context, cancel);
        if (!string.Equals(answer as string, "ok", StringComparison.Ordinal))
            throw new InvalidDataException($"The database is damaged ({answer}). Restore the last backup; nothing was changed.");
        var known = context.Database.GetMigrations().ToHashSet(StringComparer.Ordinal);
        var newer = (await context.Database.GetAppliedMigrationsAsync(cancel)).Where(m => !known.Contains(m)).ToList();
        if (newer.Count > 0)
            throw new InvalidDataException(
                $"The database was made by a newer ShopFloor ({newer[^1]}). Start that version; nothing was changed."
            );
    }

    private static async Task<object?> QuickCheckAsync(ShopContext context, CancellationToken cancel)
    {
        try
        {
            return await ScalarAsync(context, "PRAGMA quick_check", cancel);
        }
        // SQLite cannot even read far enough to answer: SQLITE_CORRUPT and SQLITE_NOTADB.
        catch (SqliteException unreadable) when (unreadable.SqliteErrorCode is 11 or 26)
        {
            return unreadable.Message;
        }
    }

    private static async Task VerifyPragmasAsync(ShopContext context, CancellationToken cancel)
    {
        foreach (var (pragma, wanted) in new (string, string)[] { ("journal_mode", "wal"), ("synchronous", "2"), ("foreign_keys", "1") })
        {
            var found = Convert.ToString(await ScalarAsync(context, $"PRAGMA {pragma}", cancel), CultureInfo.InvariantCulture);
            if (!string.Equals(found, wanted, StringComparison.OrdinalIgnoreCase))
                throw new InvalidDataException(
                    $"SQLite runs with {pragma} = {found}, but {wanted} is needed so that nothing confirmed is lost."
                );
        }
    }

    private static async Task<object?> ScalarAsync(ShopContext context, string sql, CancellationToken cancel)
    {
        await context.Database.OpenConnectionAsync(cancel);
        try
        {
            await using var command = context.Database.GetDbConnection().CreateCommand();
            command.CommandText = sql;
            return await command.ExecuteScalarAsync(cancel);
        }
        finally
        {
            await context.Database.CloseConnectionAsync();
        }
    }
}
