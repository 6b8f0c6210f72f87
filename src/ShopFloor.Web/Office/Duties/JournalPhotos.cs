using System.Collections.Immutable;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Bench.Photos;

namespace ShopFloor.Web.Office.Duties;

/// <summary>
/// Photos that the journals of pieces name: of their condition when they were brought, of faults, inspections and tests. They stay as long as the
/// piece is known. A journal only grows, so all of it is gone through once after each start, and later what is new in it.
/// </summary>
public sealed class JournalPhotos
{
    private sealed record Seen(long Place, ImmutableHashSet<PictureId> Photos);

    private volatile Seen seen = new(0, []);

    /// <summary>All of them. Who asks inside a command asked before it too, and nobody waits for it then.</summary>
    public async Task<IReadOnlySet<PictureId>> LoadAsync(ShopContext context, CancellationToken cancel)
    {
        var before = seen;
        // Before the entries: what comes in meanwhile is read once more.
        var place = await context.Journal.MaxAsync(j => (long?)j.Sequence, cancel) ?? 0;
        if (place < before.Place)
            before = new(0, []);
        var from = before.Place;
        var entries = await PhotoView.With(context.Journal.AsNoTracking().Where(j => j.Sequence > from)).ToListAsync(cancel);
        var now = new Seen(place, before.Photos.Union(entries.SelectMany(j => PhotoView.Of(j.Read()))));
        seen = now;
        return now.Photos;
    }
}
