using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Keys;

/// <summary>A key in the list.</summary>
public sealed record KeyRow(Guid Id, string Name, IReadOnlyList<string> Scopes, DateTime MadeAt, DateTime? UsedAt, DateTime? RevokedAt);

/// <summary>Reads the keys; their secrets are nowhere.</summary>
public sealed class KeyView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>All, those in force first.</summary>
    public async Task<IReadOnlyList<KeyRow>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var zone = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Zone;
        DateTime Local(DateTimeOffset at) => TimeZoneInfo.ConvertTime(at, zone).DateTime;
        var keys = await context.AccessKeys.AsNoTracking().ToListAsync(cancel);
        return
        [
            .. keys.OrderBy(k => k.RevokedAt is not null)
                .ThenByDescending(k => k.MadeAt)
                .Select(k => new KeyRow(
                    k.Id,
                    k.Name,
                    k.Scopes,
                    Local(k.MadeAt),
                    k.UsedAt is { } used ? Local(used) : null,
                    k.RevokedAt is { } revoked ? Local(revoked) : null
                )),
        ];
    }
}
