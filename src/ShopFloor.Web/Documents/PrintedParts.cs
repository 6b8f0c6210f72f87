using Microsoft.EntityFrameworkCore;
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
        // A sheet that was printed before a picture or a text was changed is waste.
        var (subject, stamp) = ($"order {order.Number}", ProofStamp.Of(order));
        var before = await work
            .Context.Audit.Where(a => a.What == What && a.Subject == subject && a.Before == stamp)
            .Select(a => a.After)
            .ToListAsync(cancel);
        var printed = before.SelectMany(c => c.Split(' ')).Concat(codes).ToHashSet(StringComparer.Ordinal);
        work.Audit(What, subject, stamp, string.Join(' ', codes));
        var pieces = await work.Context.Pieces.AsNoTracking().Where(p => p.Order == order.Id).ToListAsync(cancel);
        return pieces.Where(p => !p.IsOver && TransferChoice.NeedsTransfer(p)).All(p => printed.Contains(p.Code));
    }
}
