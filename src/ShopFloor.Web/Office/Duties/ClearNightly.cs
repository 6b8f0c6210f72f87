using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Background.Rounds;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Takes away what is over its time once a night, and at the first round after a start: it looks through much of the database.</summary>
public sealed class ClearNightly(IDbContextFactory<ShopContext> contexts, TimeProvider time)
{
    private const int BeforeHour = 5;

    // Each takes some thousand of a kind, and lets others write in between.
    private const int MostTurns = 50;

    private DoneAt? last;

    /// <summary>Does it when it is due.</summary>
    /// <returns>How many times something was taken away.</returns>
    public async Task<int> RunAsync(ClearOldData clear, CancellationToken cancel = default)
    {
        var now = time.GetUtcNow();
        if (last is { } at && !await IsDueAsync(now, at.Ago(time), cancel))
            return 0;
        var turns = 0;
        while (turns < MostTurns && (await clear.RunAsync(cancel)).IsOk)
            turns++;
        last = DoneAt.Now(time);
        return turns;
    }

    private async Task<bool> IsDueAsync(DateTimeOffset now, TimeSpan since, CancellationToken cancel)
    {
        if (since < TimeSpan.FromHours(12))
            return false;
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        return since > TimeSpan.FromDays(1) || TimeZoneInfo.ConvertTime(now, settings.Zone).Hour < BeforeHour;
    }
}
