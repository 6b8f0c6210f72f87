using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>An entry that is not booked yet.</summary>
/// <param name="Id">The entry.</param>
/// <param name="Name">For whom; may be empty.</param>
/// <param name="At">When it was changed last, shop-local.</param>
/// <param name="Offer">What was offered for it; null: nothing.</param>
public sealed record OpenEntry(Guid Id, string Name, DateTimeOffset At, KeptOffer? Offer);

/// <summary>The entries that are not booked yet, the last ones first. Those that were offered stand there as long as they are kept.</summary>
public sealed class OpenEntries(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int Most = 12;
    private const int MostOffered = 100;

    /// <summary>Reads them, for who works here.</summary>
    public async Task<IReadOnlyList<OpenEntry>> RunAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        return await OfAsync(context, await CurrentSettings.LoadAsync(context, now, cancel), now, cancel);
    }

    internal static async Task<IReadOnlyList<OpenEntry>> OfAsync(
        ShopContext context,
        CurrentSettings settings,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var since = now.AddDays(-7);
        var open = context.Drafts.AsNoTracking().Where(d => d.Kind == KeptOrder.Kind && d.WipedAt == null && d.BecameOrder == null);
        var offered = await open.Where(d => d.Json.Contains(KeptOffer.Mark))
            .OrderByDescending(d => d.ChangedAt)
            .Take(MostOffered)
            .ToListAsync(cancel);
        var others = await open.Where(d => d.ChangedAt > since && !d.Json.Contains(KeptOffer.Mark))
            .OrderByDescending(d => d.ChangedAt)
            .Take(Most)
            .ToListAsync(cancel);
        return
        [
            .. offered
                .Concat(others)
                .OrderByDescending(d => d.ChangedAt)
                .Select(d => (Draft: d, Kept: KeptOrder.Of(d)))
                .Select(d => new OpenEntry(
                    d.Draft.Id,
                    d.Kept.Entry.Name,
                    TimeZoneInfo.ConvertTime(d.Draft.ChangedAt, settings.Zone),
                    d.Kept.Offer
                )),
        ];
    }
}
