using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>What is over its time, found and not yet touched.</summary>
internal sealed record KeepingFinds(
    IReadOnlyList<Draft> Drafts,
    IReadOnlyList<Order> Pictured,
    IReadOnlyList<Order> Linked,
    IReadOnlyList<OutboxMessage> Messages,
    IReadOnlyList<CommandRecord> Commands,
    IReadOnlyList<Erasure> Documented,
    IReadOnlyList<KeptPicture> Unnamed
)
{
    private const int AtOnce = 2_000;

    /// <summary>Looks through the database, at most some thousand of a kind: the rest comes with the next round.</summary>
    public static async Task<KeepingFinds> LoadAsync(ShopContext context, DateTimeOffset now, CancellationToken cancel)
    {
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var (times, today) = (settings.Keeping, settings.Day(now));
        var draftsBefore = now.AddDays(-times.DraftDays);
        var messagesBefore = now.AddDays(-times.MessageDays);
        var commandsBefore = now.AddDays(-times.CommandDays);
        return new KeepingFinds(
            await context.Drafts.Where(d => d.ChangedAt < draftsBefore).OrderBy(d => d.ChangedAt).Take(AtOnce).ToListAsync(cancel),
            await OverAsync(context, now.AddDays(-times.PictureDays), o => o.Lines.Any(l => l.Picture != null), cancel),
            await OverAsync(context, now.AddDays(-times.LinkDays), o => o.StatusLinkHash != "", cancel),
            await context
                .Outbox.Where(m => m.SentAt != null && m.SentAt < messagesBefore && m.Json != "")
                .OrderBy(m => m.SentAt)
                .Take(AtOnce)
                .ToListAsync(cancel),
            await context.Commands.Where(c => c.At < commandsBefore).OrderBy(c => c.At).Take(AtOnce).ToListAsync(cancel),
            await context
                .Erasures.Where(e => e.DocumentsGoneAt == null && e.DocumentsUntil != null && e.DocumentsUntil < today)
                .OrderBy(e => e.DocumentsUntil)
                .Take(AtOnce)
                .ToListAsync(cancel),
            await UnnamedAsync(context, draftsBefore, cancel)
        );
    }

    /// <summary>Pictures that came in and belong to nothing: of an entry that was wiped, or a photo that nobody kept.</summary>
    private static async Task<IReadOnlyList<KeptPicture>> UnnamedAsync(ShopContext context, DateTimeOffset before, CancellationToken cancel)
    {
        var old = await context.Pictures.Where(p => p.At < before).Select(p => p.Id).ToListAsync(cancel);
        if (old.Count == 0)
            return [];
        var named = await NamedPictures.LoadAsync(context, cancel);
        var gone = old.Where(p => !named.Contains(p)).Take(AtOnce).ToList();
        return await context.Pictures.Where(p => gone.Contains(p.Id)).ToListAsync(cancel);
    }

    /// <summary>What was found, counted.</summary>
    public IReadOnlyList<KeepingLine> Lines() =>
        [
            new("Entries that became no order, or whose order is booked", Drafts.Count),
            new("Orders whose pictures go", Pictured.Count),
            new("Status links that stop", Linked.Count),
            new("Sent messages whose words go", Messages.Count),
            new("Answers to old commands", Commands.Count),
            new("Erased customers whose invoices lose the name", Documented.Count),
            new("Pictures that nothing names any more", Unnamed.Count),
        ];

    /// <summary>Orders where nothing is open any more and nothing has happened since.</summary>
    private static Task<List<Order>> OverAsync(
        ShopContext context,
        DateTimeOffset before,
        System.Linq.Expressions.Expression<Func<Order, bool>> wanted,
        CancellationToken cancel
    )
    {
        PieceState[] ended = [PieceState.HandedOver, PieceState.Spoiled, PieceState.Returned];
        return context
            .Orders.Where(o => o.BookedAt < before)
            .Where(wanted)
            .Where(o =>
                !context.Pieces.Any(p =>
                    p.Order == o.Id
                    && (!(ended.Contains(p.State) || (p.IsTest && p.State == PieceState.CheckedGood)) || p.ChangedAt >= before)
                )
            )
            .OrderBy(o => o.Number)
            .Take(AtOnce)
            .ToListAsync(cancel);
    }
}

/// <summary>One kind of thing that is over its time.</summary>
public sealed record KeepingLine(string What, int Count);
