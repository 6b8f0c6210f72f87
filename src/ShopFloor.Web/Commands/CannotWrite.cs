using Microsoft.Data.Sqlite;
using ShopFloor.Domain;

namespace ShopFloor.Web.Commands;

/// <summary>
/// What keeps the program from writing is no fault of its own: another program holds the database, the disk is full, fails, or may only be
/// read. It is said in plain words, nothing was saved, and the same can be sent again.
/// </summary>
public static class CannotWrite
{
    private const string Full = "disk-full";
    private const string Barred = "cannot-write";

    // SQLITE_BUSY, _LOCKED, _READONLY, _IOERR, _CANTOPEN, https://www.sqlite.org/rescode.html.
    private static readonly int[] BarredCodes = [5, 6, 8, 10, 14];
    private const int FullCode = 13;

    // ENOSPC, EDQUOT of Linux; ERROR_HANDLE_DISK_FULL, ERROR_DISK_FULL of Windows.
    private static readonly int[] NoSpace = [28, 122, unchecked((int)0x80070027), unchecked((int)0x80070070)];

    /// <summary>The disk has no room.</summary>
    public static Refusal DiskFull { get; } = new(Full, "The disk is full: nothing was saved. Make room, then try again.");

    /// <summary>Anything else of the kind; mostly it passes.</summary>
    public static Refusal NotNow { get; } =
        new(
            Barred,
            "The database cannot be written just now: nothing was saved. Wait a moment and try again; if it stays like this, tell the owner."
        );

    /// <summary>The words for it; null: the exception is of another kind.</summary>
    public static Refusal? Of(Exception thrown)
    {
        for (var e = thrown; e is not null; e = e.InnerException)
            switch (e)
            {
                case SqliteException { SqliteErrorCode: FullCode }:
                case IOException when NoSpace.Contains(e.HResult):
                    return DiskFull;
                case SqliteException sqlite when BarredCodes.Contains(sqlite.SqliteErrorCode):
                    return NotNow;
            }
        return null;
    }

    /// <summary>True when something was refused for that reason alone: it may be sent again as it is.</summary>
    public static bool Is(IReadOnlyList<Refusal> refusals) => refusals.Any(r => r.Code is Full or Barred);
}
