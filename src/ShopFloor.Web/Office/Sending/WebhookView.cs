using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Sending;

/// <summary>A webhook in the list.</summary>
public sealed record WebhookRow(Guid Id, string Url, IReadOnlyList<string> Events, bool IsActive, int Waiting, int Resting);

/// <summary>Reads the webhooks.</summary>
public sealed class WebhookView(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>All, the oldest first.</summary>
    public async Task<IReadOnlyList<WebhookRow>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var open = (
            await context
                .Outbox.AsNoTracking()
                .Where(m => m.Target != null && m.SentAt == null)
                .Select(m => new { m.Target, Dead = m.DeadAt != null })
                .ToListAsync(cancel)
        ).ToLookup(m => m.Target!.Value, m => m.Dead);
        var hooks = await context.Webhooks.AsNoTracking().OrderBy(h => h.MadeAt).ToListAsync(cancel);
        return
        [
            .. hooks.Select(h => new WebhookRow(
                h.Id,
                h.Url,
                h.Events,
                h.IsActive,
                open[h.Id].Count(dead => !dead),
                open[h.Id].Count(dead => dead)
            )),
        ];
    }
}
