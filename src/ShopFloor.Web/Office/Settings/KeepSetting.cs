using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Settings;

/// <summary>Writes a new version of a dated setting, and into the audit list what it was before.</summary>
internal static class KeepSetting
{
    /// <summary>What the audit list calls it.</summary>
    internal const string Changed = "setting changed";

    /// <summary>Holds from this command's instant on. The command is refused as a whole when the page had seen another version than the
    /// one that it would replace.</summary>
    internal static async Task KeepAsync<T>(this CommandWork work, string key, T value, CancellationToken cancel)
    {
        var latest = await work
            .Context.Settings.Where(s => s.Key == key && s.From <= work.Now)
            .OrderByDescending(s => s.From)
            .ThenByDescending(s => s.Id)
            .Select(s => new { s.Id, s.Json })
            .FirstOrDefaultAsync(cancel);
        await work.DropLaterAsync(key, cancel);
        var (before, after) = (latest?.Json, JsonSerializer.Serialize(value, JsonForms.Default));
        if (before == after)
            return;
        if (work.Seen is { } seen && seen.GetValueOrDefault(key) != (latest?.Id ?? Guid.Empty))
        {
            work.Conflict ??= CommandWork.ChangedMeanwhile("these settings");
            return;
        }
        work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), key, work.Now, after, work.By));
        work.Audit(Changed, key, before ?? "", after);
        work.Touch(Topic.Settings, Guid.Empty);
    }

    /// <summary>
    /// Takes away the versions of a key that begin after this command. Nobody chooses the day of a version, what has a day has it in its
    /// content: they were made while the clock was ahead, and would come back unasked. While the clock itself is doubted they may be the true ones.
    /// </summary>
    internal static async Task DropLaterAsync(this CommandWork work, string key, CancellationToken cancel)
    {
        var later = await work.Context.Settings.Where(s => s.Key == key && s.From > work.Now).ToListAsync(cancel);
        if (later.Count == 0 || !await ClockMark.IsSureAsync(work.Context, work.Now, cancel))
            return;
        work.Context.Settings.RemoveRange(later);
        work.Touch(Topic.Settings, Guid.Empty);
    }
}
