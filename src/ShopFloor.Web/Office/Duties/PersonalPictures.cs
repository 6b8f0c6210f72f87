using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Pictures that belong to some orders, to no others and to no entry that may still be booked.</summary>
internal static class PersonalPictures
{
    /// <summary>Takes their rows out of the context; their files are the caller's to delete after the commit.</summary>
    public static async Task<IReadOnlyList<PictureId>> TakeAsync(
        ShopContext context,
        JournalPhotos photos,
        IReadOnlyList<Order> orders,
        CancellationToken cancel
    )
    {
        var gone = await FindAsync(context, photos, orders, [], cancel);
        context.Pictures.RemoveRange(await context.Pictures.Where(p => gone.Contains(p.Id)).ToListAsync(cancel));
        return gone;
    }

    /// <summary>Finds them.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="photos">What journals name.</param>
    /// <param name="orders">Whose.</param>
    /// <param name="leaving">Entries that go too.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static async Task<IReadOnlyList<PictureId>> FindAsync(
        ShopContext context,
        JournalPhotos photos,
        IReadOnlyList<Order> orders,
        IReadOnlyList<Guid> leaving,
        CancellationToken cancel
    )
    {
        var ids = orders.SelectMany(o => o.AllLines).Select(l => l.Picture).OfType<PictureId>().Distinct().ToList();
        if (ids.Count == 0)
            return [];
        var these = orders.Select(o => o.Id).ToList();
        // A repeated order uses the picture of the first one.
        var shared = (
            await context
                .Orders.AsNoTracking()
                .Where(o => !these.Contains(o.Id) && o.Lines.Any(l => l.Picture != null && ids.Contains(l.Picture.Value)))
                .ToListAsync(cancel)
        )
            .SelectMany(o => o.AllLines)
            .Select(l => l.Picture)
            .OfType<PictureId>()
            .ToHashSet();
        shared.UnionWith(await photos.LoadAsync(context, cancel));
        shared.UnionWith(await NamedPictures.InOpenDraftsAsync(context, leaving, cancel));
        return ids.FindAll(i => !shared.Contains(i));
    }
}
