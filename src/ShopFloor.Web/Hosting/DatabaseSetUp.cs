using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Background.Rounds;

namespace ShopFloor.Web.Hosting;

/// <summary>Opens the database at the start.</summary>
public static partial class DatabaseSetUp
{
    /// <summary>Takes the folder's lock, checks the database and brings it up to date.</summary>
    /// <param name="app">The program.</param>
    /// <param name="say">Where whoever starts it reads why it does not start.</param>
    /// <returns>False when the folder is in use, cannot be used, or its database is damaged, lost or newer than the program: then one line says so.</returns>
    public static async Task<bool> OpenDatabaseAsync(this WebApplication app, TextWriter say)
    {
        try
        {
            _ = app.Services.GetRequiredService<ProcessLock>();
        }
        catch (IOException taken)
        {
            await say.WriteLineAsync(taken.Message);
            return false;
        }
        try
        {
            await CheckAsync(app);
            return true;
        }
        catch (InvalidDataException unfit)
        {
            await say.WriteLineAsync(unfit.Message);
        }
        catch (Exception no) when (no is IOException or UnauthorizedAccessException || no is SqliteException sqlite && IsOutside(sqlite))
        {
            var folder = app.Services.GetRequiredService<HostSettings>().DataFolder;
            await say.WriteLineAsync($"The database in {folder} cannot be opened: {no.Message} {Advice(no)}");
        }
        return false;
    }

    /// <summary>Looks at the clock before anything is done by it.</summary>
    public static async Task LookAtClockAsync(this WebApplication app)
    {
        await using var scope = app.Services.CreateAsyncScope();
        await scope.ServiceProvider.GetRequiredService<WatchClock>().RunAsync();
    }

    // Busy, locked, read-only, disk trouble, disk full, cannot be opened: what is around the database, not in it.
    private static bool IsOutside(SqliteException no) => no.SqliteErrorCode is 5 or 6 or 8 or 10 or 13 or 14;

    private static string Advice(Exception no) =>
        no is SqliteException { SqliteErrorCode: 5 or 6 }
            ? "Another program has it open: close that one first."
            : "Look whether the disk is there, has room and may be written to, and whether files and folder belong to the user that the program runs as.";

    private static async Task CheckAsync(WebApplication app)
    {
        var settings = app.Services.GetRequiredService<HostSettings>();
        await using var context = await app.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        var now = app.Services.GetRequiredService<TimeProvider>().GetUtcNow();
        var report = await GuardedStart.RunAsync(context, settings.DataFolder, now, CancellationToken.None);
        AsideFolder.DropOld(settings.DataFolder, now);
        LogOpened(app.Logger, settings.DataFolder, report.Created, report.Applied.Count, report.BackupFile);
    }

    [LoggerMessage(
        Level = LogLevel.Information,
        Message = "Data folder {Folder}: created {Created}, migrations applied {Applied}, backup before them {Backup}"
    )]
    private static partial void LogOpened(ILogger logger, string folder, bool created, int applied, string? backup);
}
