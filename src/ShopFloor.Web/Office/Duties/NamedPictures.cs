using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Counter.Drafts;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Every picture that something names: an order's line, an entry that is not booked yet, the workshop's
/// letters, or a piece's journal.</summary>
internal static class NamedPictures
{
    /// <summary>All of them.</summary>
    public static async Task<HashSet<PictureId>> LoadAsync(ShopContext context, CancellationToken cancel)
    {
        var lines = await context
            .Orders.SelectMany(o => o.Lines)
            .Where(l => l.Picture != null)
            .Select(l => l.Picture!.Value)
            .ToListAsync(cancel);
        var drafts = await context.Drafts.AsNoTracking().Where(d => d.Kind == KeptOrder.Kind && d.Json != "{}").ToListAsync(cancel);
        // Of all times: a letter of last year is written with the logo of last year.
        var logos = await context.Settings.Where(s => s.Key == SettingKeys.Logo).Select(s => s.Json).ToListAsync(cancel);
        var logo = logos.Select(j => JsonSerializer.Deserialize<WorkshopLogo>(j, JsonForms.Default)?.Picture).OfType<PictureId>();
        return [.. lines, .. logo, .. drafts.SelectMany(d => KeptOrder.Of(d).Pictures), .. await InJournalAsync(context, cancel)];
    }

    /// <summary>Those of entries that may still be booked: of an order that is repeated, they are the ones of the first order.</summary>
    public static async Task<IEnumerable<PictureId>> InOpenDraftsAsync(ShopContext context, CancellationToken cancel) =>
        (
            await context
                .Drafts.Where(d => d.Kind == KeptOrder.Kind && d.Json != "{}" && d.BecameOrder == null && d.WipedAt == null)
                .ToListAsync(cancel)
        )
            .Where(d => context.Entry(d).State != EntityState.Deleted)
            .SelectMany(d => KeptOrder.Of(d).Pictures);

    /// <summary>Photos of pieces: of their condition when they were brought, of faults, inspections and tests. They stay as long as the piece
    /// is known.</summary>
    public static async Task<IEnumerable<PictureId>> InJournalAsync(ShopContext context, CancellationToken cancel) =>
        (await PhotoView.With(context.Journal.AsNoTracking()).ToListAsync(cancel)).SelectMany(j => PhotoView.Of(j.Read()));
}
