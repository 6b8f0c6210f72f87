using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;

namespace ShopFloor.Web.Hosting;

/// <summary>Opens the database at the start.</summary>
public static partial class DatabaseSetUp
{
    /// <summary>Takes the folder's lock, checks the database and brings it up to date.</summary>
    /// <param name="app">The program.</param>
    /// <param name="say">Where whoever starts it reads why it does not start.</param>
    /// <returns>False when the folder is in use, or the database is damaged or newer than the program: then one line says so.</returns>
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
            return false;
        }
    }

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
