using Microsoft.Data.Sqlite;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Background.Rounds;

/// <summary>
/// Once a night, and once after each start, lets SQLite check the whole live database. A backup is checked too, but is written anew from the
/// rows: an index that went bad is not in it.
/// </summary>
public sealed partial class CheckDatabase(HostSettings settings, TimeProvider time, ILogger<CheckDatabase> logger)
{
    // SQLITE_CORRUPT and SQLITE_NOTADB: it could not even read far enough to answer.
    private const int Corrupt = 11;
    private const int NoDatabase = 26;
    private DateOnly? last;

    /// <summary>What SQLite found at the last check; null: nothing, or there was none yet.</summary>
    public string? Trouble { get; private set; }

    /// <summary>Does it when its hour has come and it was not done today.</summary>
    /// <returns>True when the database is sound, false when not; null when it was not due.</returns>
    public bool? RunIfDue()
    {
        var now = time.GetLocalNow();
        var day = DateOnly.FromDateTime(now.DateTime);
        if (last == day || now.Hour < settings.BackupHour)
            return null;
        try
        {
            Backup.Verify(ShopDatabase.FileIn(settings.DataFolder));
            Trouble = null;
        }
        catch (Exception no) when (no is InvalidDataException or SqliteException { SqliteErrorCode: Corrupt or NoDatabase })
        {
            Trouble = no.Message;
            LogDamaged(logger, no);
        }
        last = day;
        return Trouble is null;
    }

    [LoggerMessage(Level = LogLevel.Critical, Message = "The database is damaged: stop the program and restore the last backup")]
    private static partial void LogDamaged(ILogger logger, Exception trouble);
}
