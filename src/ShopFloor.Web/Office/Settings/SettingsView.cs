using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
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

    /// <summary>The versions that a page has seen once its entry was answered: those of now when it was kept, and when it was refused
    /// because somebody else had changed them. Who is told so and saves again wants the own entry.</summary>
    public async Task<IReadOnlyDictionary<string, Guid>> SeenAfterAsync(
        Result<Done> answer,
        IReadOnlyDictionary<string, Guid> seen,
        CancellationToken cancel = default
    ) => answer.IsOk || CommandWork.IsOvertaken(answer.Refusals) ? (await LoadAsync(cancel)).Versions : seen;
}
