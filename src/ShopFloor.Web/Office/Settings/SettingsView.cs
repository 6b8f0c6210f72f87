using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Settings;

/// <summary>The dated settings as they hold now, for a page.</summary>
public sealed class SettingsView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Reads them.</summary>
    public async Task<CurrentSettings> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
    }
}
