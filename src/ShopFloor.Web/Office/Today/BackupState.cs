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
public sealed record BackupState(DateTimeOffset? MadeAt, RestoreTrial? Trial)
{
    /// <summary>A backup older than this is pointed out (common practice, no source).</summary>
    public static readonly TimeSpan Old = TimeSpan.FromDays(7);

    /// <summary>Reads it.</summary>
    internal static async Task<BackupState> LoadAsync(
        ShopContext context,
        KeepBackup backups,
        CurrentSettings settings,
        CancellationToken cancel
    )
    {
        var last = await context
            .SecurityEvents.AsNoTracking()
            .Where(e => e.What == RehearseRestore.What)
            .OrderByDescending(e => e.At)
            .FirstOrDefaultAsync(cancel);
        return new(backups.Last, last is null ? null : new RestoreTrial(settings.Day(last.At), last.IsGood, last.Subject));
    }
}
