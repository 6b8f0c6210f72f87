using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Counter.Drafts;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Every picture that something names: an order's line, an entry that is not booked yet, the workshop's
/// letters, or a piece's journal.</summary>
internal static class NamedPictures
{
    /// <summary>All of them.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="photos">What journals name.</param>
    /// <param name="news">Of orders, entries and settings only those that changed from then on, without some orders; null: all.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static async Task<HashSet<PictureId>> LoadAsync(
        ShopContext context,
        JournalPhotos photos,
        (DateTimeOffset From, IReadOnlyList<OrderId> Without)? news,
        CancellationToken cancel
    )
    {
        var (from, without) = news ?? (DateTimeOffset.MinValue, []);
        var orders = context.Orders.Where(o => !without.Contains(o.Id));
        if (news is not null)
            orders = orders.Where(o => EF.Property<DateTimeOffset>(o, OrderChanged.At) >= from);
        var lines = await orders.SelectMany(o => o.Lines).Where(l => l.Picture != null).Select(l => l.Picture!.Value).ToListAsync(cancel);
        var drafts = await context
            .Drafts.AsNoTracking()
            .Where(d => d.Kind == KeptOrder.Kind && d.Json != "{}" && d.ChangedAt >= from)
            .ToListAsync(cancel);
        // Of all times: a letter of last year is written with the logo of last year.
        var logos = await context.Settings.Where(s => s.Key == SettingKeys.Logo && s.From >= from).Select(s => s.Json).ToListAsync(cancel);
        var logo = logos.Select(j => JsonSerializer.Deserialize<WorkshopLogo>(j, JsonForms.Default)?.Picture).OfType<PictureId>();
        return [.. lines, .. logo, .. drafts.SelectMany(d => KeptOrder.Of(d).Pictures), .. await photos.LoadAsync(context, cancel)];
    }

    /// <summary>Those of entries that may still be booked: of an order that is repeated, they are the ones of the first order.</summary>
    public static Task<IEnumerable<PictureId>> InOpenDraftsAsync(ShopContext context, CancellationToken cancel) =>
        InOpenDraftsAsync(context, [], cancel);

    /// <summary>Those of entries that may still be booked, without some that go.</summary>
    public static async Task<IEnumerable<PictureId>> InOpenDraftsAsync(
        ShopContext context,
        IReadOnlyList<Guid> leaving,
        CancellationToken cancel
    ) =>
        (
            await context
                .Drafts.Where(d => d.Kind == KeptOrder.Kind && d.Json != "{}" && d.BecameOrder == null && d.WipedAt == null)
                .ToListAsync(cancel)
        )
            .Where(d => context.Entry(d).State != EntityState.Deleted && !leaving.Contains(d.Id))
            .SelectMany(d => KeptOrder.Of(d).Pictures);
}
