using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;

namespace ShopFloor.Web.Office.Duties;

/// <summary>What is over its time, by name: found while others go on with their work.</summary>
/// <param name="Since">From then on something may have come to name a picture.</param>
/// <param name="Personal">Pictures of the orders whose pictures go that belong to nothing else.</param>
/// <param name="Unnamed">Pictures that came in and belong to nothing: of an entry that was wiped, or a photo that nobody kept.</param>
internal sealed record KeepingIds(
    DateTimeOffset Since,
    IReadOnlyList<Guid> Drafts,
    IReadOnlyList<OrderId> Pictured,
    IReadOnlyList<PictureId> Personal,
    IReadOnlyList<OrderId> Linked,
    IReadOnlyList<Guid> Messages,
    IReadOnlyList<Guid> Commands,
    IReadOnlyList<CustomerId> Documented,
    IReadOnlyList<PictureId> Unnamed
)
{
    private const int AtOnce = 2_000;

    // No command takes so long: what began before the search and was saved after it is looked at again.
    private static readonly TimeSpan Overlap = TimeSpan.FromHours(1);

    /// <summary>Looks through the database, at most some thousand of a kind: the rest comes with the next round.</summary>
    public static async Task<KeepingIds> LoadAsync(ShopContext context, JournalPhotos photos, DateTimeOffset now, CancellationToken cancel)
    {
        var rules = await KeepingRules.LoadAsync(context, now, cancel);
        var drafts = await rules.Drafts.OrderBy(d => d.ChangedAt).Take(AtOnce).Select(d => d.Id).ToListAsync(cancel);
        var pictured = await rules.Pictured.AsNoTracking().OrderBy(o => o.Number).Take(AtOnce).ToListAsync(cancel);
        return new KeepingIds(
            now - Overlap,
            drafts,
            pictured.ConvertAll(o => o.Id),
            await PersonalPictures.FindAsync(context, photos, pictured, drafts, cancel),
            await rules.Linked.OrderBy(o => o.Number).Take(AtOnce).Select(o => o.Id).ToListAsync(cancel),
            await rules.Messages.OrderBy(m => m.SentAt).Take(AtOnce).Select(m => m.Id).ToListAsync(cancel),
            await rules.Commands.OrderBy(c => c.At).Take(AtOnce).Select(c => c.Id).ToListAsync(cancel),
            await rules.Documented.OrderBy(e => e.DocumentsUntil).Take(AtOnce).Select(e => e.Customer).ToListAsync(cancel),
            await UnnamedAsync(context, rules, photos, cancel)
        );
    }

    private static async Task<IReadOnlyList<PictureId>> UnnamedAsync(
        ShopContext context,
        KeepingRules rules,
        JournalPhotos photos,
        CancellationToken cancel
    )
    {
        var old = await rules.Pictures.Select(p => p.Id).ToListAsync(cancel);
        if (old.Count == 0)
            return [];
        var named = await NamedPictures.LoadAsync(context, photos, news: null, cancel);
        return [.. old.Where(p => !named.Contains(p)).Take(AtOnce)];
    }

    /// <summary>What was found, counted.</summary>
    public IReadOnlyList<KeepingLine> Lines() =>
        KeepingLine.Of(Drafts.Count, Pictured.Count, Linked.Count, Messages.Count, Commands.Count, Documented.Count, Unnamed.Count);

    /// <summary>True when nothing is over its time.</summary>
    public bool IsNothing => Lines().All(l => l.Count == 0);
}

/// <summary>What was found over its time and still is, and not yet touched.</summary>
internal sealed record KeepingFinds(
    IReadOnlyList<Draft> Drafts,
    IReadOnlyList<Order> Pictured,
    IReadOnlyList<KeptPicture> Personal,
    IReadOnlyList<Order> Linked,
    IReadOnlyList<OutboxMessage> Messages,
    IReadOnlyList<CommandRecord> Commands,
    IReadOnlyList<Erasure> Documented,
    IReadOnlyList<KeptPicture> Unnamed
)
{
    /// <summary>Looks again at what was found, and at nothing else.</summary>
    public static async Task<KeepingFinds> LoadAsync(
        ShopContext context,
        JournalPhotos photos,
        KeepingIds ids,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var rules = await KeepingRules.LoadAsync(context, now, cancel);
        var pictured = await rules.Pictured.Where(o => ids.Pictured.Contains(o.Id)).ToListAsync(cancel);
        var named = await NamedSinceAsync(context, photos, ids, pictured, cancel);
        var own = pictured.SelectMany(o => o.AllLines).Select(l => l.Picture).OfType<PictureId>().ToHashSet();
        var personal = ids.Personal.Where(p => own.Contains(p) && !named.Contains(p)).ToList();
        var unnamed = ids.Unnamed.Where(p => !named.Contains(p)).ToList();
        return new KeepingFinds(
            await rules.Drafts.Where(d => ids.Drafts.Contains(d.Id)).ToListAsync(cancel),
            pictured,
            await context.Pictures.Where(p => personal.Contains(p.Id)).ToListAsync(cancel),
            await rules.Linked.Where(o => ids.Linked.Contains(o.Id)).ToListAsync(cancel),
            await rules.Messages.Where(m => ids.Messages.Contains(m.Id)).ToListAsync(cancel),
            await rules.Commands.Where(c => ids.Commands.Contains(c.Id)).ToListAsync(cancel),
            await rules.Documented.Where(e => ids.Documented.Contains(e.Customer)).ToListAsync(cancel),
            await rules.Pictures.Where(p => unnamed.Contains(p.Id)).ToListAsync(cancel)
        );
    }

    /// <summary>Pictures that something has come to name since the search, and those of orders that are not over any more.</summary>
    private static async Task<HashSet<PictureId>> NamedSinceAsync(
        ShopContext context,
        JournalPhotos photos,
        KeepingIds ids,
        IReadOnlyList<Order> pictured,
        CancellationToken cancel
    )
    {
        if (ids.Personal.Count + ids.Unnamed.Count == 0)
            return [];
        var going = pictured.Select(o => o.Id).ToList();
        var named = await NamedPictures.LoadAsync(context, photos, (ids.Since, going), cancel);
        var staying = ids.Pictured.Except(going).ToList();
        var open = await context.Orders.AsNoTracking().Where(o => staying.Contains(o.Id)).ToListAsync(cancel);
        named.UnionWith(open.SelectMany(o => o.AllLines).Select(l => l.Picture).OfType<PictureId>());
        return named;
    }

    /// <summary>What is there, counted.</summary>
    public IReadOnlyList<KeepingLine> Lines() =>
        KeepingLine.Of(Drafts.Count, Pictured.Count, Linked.Count, Messages.Count, Commands.Count, Documented.Count, Unnamed.Count);
}

/// <summary>One kind of thing that is over its time.</summary>
public sealed record KeepingLine(string What, int Count)
{
    internal static IReadOnlyList<KeepingLine> Of(
        int drafts,
        int pictured,
        int linked,
        int messages,
        int commands,
        int documented,
        int unnamed
    ) =>
        [
            new("Entries that became no order, or whose order is booked", drafts),
            new("Orders whose pictures go", pictured),
            new("Status links that stop", linked),
            new("Sent messages whose words go", messages),
            new("Answers to old commands", commands),
            new("Erased customers whose invoices lose the name", documented),
            new("Pictures that nothing names any more", unnamed),
        ];
}
