using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;

namespace ShopFloor.Web.Hosting;

/// <summary>Opens the database at the start.</summary>
public static partial class DatabaseSetUp
{
    /// <summary>Takes the folder's lock, checks the database and brings it up to date.</summary>
    /// <exception cref="IOException">Another process uses the folder.</exception>
    /// <exception cref="InvalidDataException">The database is damaged or newer than the program.</exception>
    public static async Task OpenDatabaseAsync(this WebApplication app)
    {
        _ = app.Services.GetRequiredService<ProcessLock>();
        var settings = app.Services.GetRequiredService<HostSettings>();
        await using var context = await app.Services.GetRequiredService<IDbContextFactory<ShopContext>>().CreateDbContextAsync();
        var now = app.Services.GetRequiredService<TimeProvider>().GetUtcNow();
        var report = await GuardedStart.RunAsync(context, settings.DataFolder, now, CancellationToken.None);
        LogOpened(app.Logger, settings.DataFolder, report.Created, report.Applied.Count, report.BackupFile);
    }

    [LoggerMessage(
        Level = LogLevel.Information,
        Message = "Data folder {Folder}: created {Created}, migrations applied {Applied}, backup before them {Backup}"
    )]
    private static partial void LogOpened(ILogger logger, string folder, bool created, int applied, string? backup);
}
