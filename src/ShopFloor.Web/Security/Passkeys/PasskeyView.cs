using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>A passkey in a list.</summary>
/// <param name="Key">The credential's id as text.</param>
/// <param name="Name">What its worker calls it.</param>
/// <param name="Since">The day on which it was added, by the shop's clock.</param>
public sealed record PasskeyRow(string Key, string Name, DateOnly Since);

/// <summary>Reads the passkeys of a sign-in.</summary>
public sealed class PasskeyView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>All of them, the oldest first.</summary>
    public async Task<IReadOnlyList<PasskeyRow>> LoadAsync(Guid worker, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var rows = await WorkerStore.PasskeysIn(context).AsNoTracking().Where(t => t.UserId == worker).ToListAsync(cancel);
        var zone = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone;
        return
        [
            .. rows.Select(r => (r.Name, Kept: StoredPasskey.Read(r)))
                .OrderBy(r => r.Kept.Since)
                .Select(r => new PasskeyRow(
                    r.Name,
                    r.Kept.Name,
                    DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(r.Kept.Since, zone).DateTime)
                )),
        ];
    }
}
