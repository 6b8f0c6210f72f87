using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Today;

/// <summary>A trial of putting the newest backup back.</summary>
/// <param name="Day">When, shop-local.</param>
/// <param name="IsGood">It worked.</param>
/// <param name="Words">Which backup, and what came back or what stood in the way.</param>
public sealed record RestoreTrial(DateOnly Day, bool IsGood, string Words);

/// <summary>How safe the data is.</summary>
/// <param name="MadeAt">When the newest backup was made, UTC; null: there is none.</param>
/// <param name="Trial">The last trial; null: none yet.</param>
/// <param name="Ahead">Backups that are dated in the future, which do not count.</param>
public sealed record BackupState(DateTimeOffset? MadeAt, RestoreTrial? Trial, int Ahead = 0)
{
    /// <summary>A backup older than this is pointed out (common practice, no source).</summary>
    public static readonly TimeSpan Old = TimeSpan.FromDays(7);

    /// <summary>Reads it.</summary>
    internal static async Task<BackupState> LoadAsync(
        ShopContext context,
        KeepBackup backups,
        (CurrentSettings Settings, DateTimeOffset Now) at,
        CancellationToken cancel
    )
    {
        var last = await context
            .SecurityEvents.AsNoTracking()
            .Where(e => e.What == RehearseRestore.What && e.At <= at.Now)
            .OrderByDescending(e => e.At)
            .FirstOrDefaultAsync(cancel);
        // What came with a restored database was tried on a backup of another folder: it says nothing about this one.
        var isOfAnother = backups.Last is null && last is { IsGood: true };
        var trial = last is null || isOfAnother ? null : new RestoreTrial(at.Settings.Day(last.At), last.IsGood, last.Subject);
        return new(backups.Last, trial, backups.Ahead);
    }
}
