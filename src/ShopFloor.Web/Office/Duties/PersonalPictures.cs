using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Pictures that belong to some orders, to no others and to no entry that may still be booked.</summary>
internal static class PersonalPictures
{
    /// <summary>Takes their rows out of the context; their files are the caller's to delete after the commit.</summary>
    public static async Task<IReadOnlyList<PictureId>> TakeAsync(ShopContext context, IReadOnlyList<Order> orders, CancellationToken cancel)
    {
        var ids = orders.SelectMany(o => o.AllLines).Select(l => l.Picture).OfType<PictureId>().Distinct().ToList();
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
        shared.UnionWith(await NamedPictures.InJournalAsync(context, cancel));
        shared.UnionWith(await NamedPictures.InOpenDraftsAsync(context, cancel));
        var gone = ids.Where(i => !shared.Contains(i)).ToList();
        context.Pictures.RemoveRange(await context.Pictures.Where(p => gone.Contains(p.Id)).ToListAsync(cancel));
        return gone;
    }
}
