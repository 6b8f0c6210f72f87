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

    /// <summary>Holds from this command's instant on.</summary>
    internal static async Task KeepAsync<T>(this CommandWork work, string key, T value, CancellationToken cancel)
    {
        var before = await work
            .Context.Settings.Where(s => s.Key == key && s.From <= work.Now)
            .OrderByDescending(s => s.From)
            .Select(s => s.Json)
            .FirstOrDefaultAsync(cancel);
        var after = JsonSerializer.Serialize(value, JsonForms.Default);
        if (before == after)
            return;
        work.Context.Settings.Add(new DatedSetting(Guid.CreateVersion7(), key, work.Now, after, work.By));
        work.Audit(Changed, key, before ?? "", after);
        work.Touch(Topic.Settings, Guid.Empty);
    }
}
