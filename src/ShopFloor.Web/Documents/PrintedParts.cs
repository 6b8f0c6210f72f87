using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Status;

namespace ShopFloor.Web.Documents;

/// <summary>An order whose sheets are printed session by session is printed once all that still needs a transfer was on one of them.</summary>
internal static class PrintedParts
{
    /// <summary>The word in the journal.</summary>
    internal const string What = "transfers printed in part";

    /// <summary>Writes down what of an order is printed now; true when it is all there is with what was printed before.</summary>
    internal static async Task<bool> AreAllAsync(CommandWork work, Order order, IReadOnlyList<string> codes, CancellationToken cancel)
    {
        var printed = (await CodesAsync(work.Context, order, cancel)).Concat(codes).ToHashSet(StringComparer.Ordinal);
        var (subject, stamp) = Entry(order);
        work.Audit(What, subject, stamp, string.Join(' ', codes));
        var pieces = await work.Context.Pieces.AsNoTracking().Where(p => p.Order == order.Id).ToListAsync(cancel);
        return pieces.Where(p => !p.IsOver && TransferChoice.NeedsTransfer(p)).All(p => printed.Contains(p.Code));
    }

    /// <summary>Codes of the pieces of an order whose transfers were printed so, as its pictures and texts are now.</summary>
    internal static async Task<IReadOnlySet<string>> CodesAsync(ShopContext context, Order order, CancellationToken cancel)
    {
        var (subject, stamp) = Entry(order);
        var parts = await context
            .Audit.AsNoTracking()
            .Where(a => a.What == What && a.Subject == subject && a.Before == stamp)
            .Select(a => a.After)
            .ToListAsync(cancel);
        return parts.SelectMany(c => c.Split(' ')).ToHashSet(StringComparer.Ordinal);
    }

    // A sheet that was printed before a picture or a text was changed is waste: the stamp tells.
    private static (string Subject, string Stamp) Entry(Order order) => ($"order {order.Number}", ProofStamp.Of(order));
}
