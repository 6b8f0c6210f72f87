using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;

namespace ShopFloor.Web.Office.Settings;

/// <summary>All versions of the dated settings, read once, for asking what held at many instants.</summary>
internal sealed class SettingsHistory
{
    private readonly IReadOnlyList<DatedSetting> rows;
    private readonly Dictionary<int, CurrentSettings> known = [];

    private SettingsHistory(IReadOnlyList<DatedSetting> rows) => this.rows = rows;

    /// <summary>Reads them.</summary>
    public static async Task<SettingsHistory> LoadAsync(ShopContext context, CancellationToken cancel) =>
        new(
            await context
                .Settings.AsNoTracking()
                .Where(s => s.Key != SettingKeys.ClockSeen)
                .OrderBy(s => s.From)
                .ThenBy(s => s.Id)
                .ToListAsync(cancel)
        );

    /// <summary>What held at that instant.</summary>
    public CurrentSettings At(DateTimeOffset at)
    {
        var count = rows.TakeWhile(r => r.From <= at).Count();
        if (!known.TryGetValue(count, out var found))
            known[count] = found = CurrentSettings.Of(rows.Take(count));
        return found;
    }
}
