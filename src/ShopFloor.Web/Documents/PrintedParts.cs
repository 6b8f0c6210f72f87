using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
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

    /// <summary>
    /// Codes of the pieces of an order whose transfers were printed so, as its pictures and texts are now; without those whose transfer is
    /// used up.
    /// </summary>
    internal static async Task<IReadOnlySet<string>> CodesAsync(ShopContext context, Order order, CancellationToken cancel)
    {
        var used = await UsedPrints.OfAsync(context, [order.Id], cancel);
        var last = await LastAsync(context, order, cancel);
        return last.Where(l => !used.TryGetValue(l.Key, out var at) || l.Value >= at).Select(l => l.Key).ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Pieces of the customers that are there and not at their end.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="only">Of these orders; null: of all.</param>
    internal static IQueryable<Piece> Open(ShopContext context, IReadOnlyCollection<OrderId>? only)
    {
        var open = context.Pieces.AsNoTracking().Where(p => OpenStates.Open.Contains(p.State) && !p.IsTest);
        return only is null ? open : open.Where(p => only.Contains(p.Order));
    }

    /// <summary>
    /// Codes of open pieces that were made after the sheets of their order were printed, or whose print was used up since, and that were on
    /// no sheet since: a transfer of theirs is still to be printed, though the order's were.
    /// </summary>
    /// <param name="context">Where to look.</param>
    /// <param name="only">Of these orders; null: of all.</param>
    /// <param name="cancel">Ends the reading.</param>
    internal static async Task<IReadOnlySet<string>> MissingAsync(
        ShopContext context,
        IReadOnlyCollection<OrderId>? only,
        CancellationToken cancel
    )
    {
        // Once the sheets are printed, a piece is only made in the place of one that is not there: spoiled, or back on the shelf.
        var made = Open(context, only)
            .Where(p =>
                !p.IsOwn
                && context.Pieces.Any(l =>
                    l.Order == p.Order && l.Line == p.Line && (l.State == PieceState.Spoiled || l.State == PieceState.Returned) && !l.IsTest
                )
            );
        var pieces = (await made.ToListAsync(cancel)).FindAll(TransferChoice.NeedsTransfer);
        var missing = await UsedUpAsync(context, only, cancel);
        if (pieces.Count == 0)
            return missing;
        var ids = pieces.Select(p => p.Order).Distinct().ToList();
        foreach (var order in await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id) && o.PrintedAt != null).ToListAsync(cancel))
        {
            var printed = await CodesAsync(context, order, cancel);
            foreach (var piece in pieces.Where(p => p.Order == order.Id && !printed.Contains(p.Code)))
                if (await MadeAtAsync(context, piece.Id, cancel) > order.PrintedAt)
                    missing.Add(piece.Code);
        }
        return missing;
    }

    private static async Task<HashSet<string>> UsedUpAsync(
        ShopContext context,
        IReadOnlyCollection<OrderId>? only,
        CancellationToken cancel
    )
    {
        var missing = new HashSet<string>(StringComparer.Ordinal);
        var used = await UsedPrints.OfAsync(context, only, cancel);
        if (used.Count == 0)
            return missing;
        var codes = used.Keys.ToList();
        var back = await Open(context, only).Where(p => codes.Contains(p.Code)).ToListAsync(cancel);
        var ids = back.Select(p => p.Order).Distinct().ToList();
        foreach (var order in await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id) && o.PrintedAt != null).ToListAsync(cancel))
        {
            var last = await LastAsync(context, order, cancel);
            bool IsOn(string code) => order.PrintedAt >= used[code] || (last.TryGetValue(code, out var at) && at >= used[code]);
            missing.UnionWith(back.Where(p => p.Order == order.Id && !IsOn(p.Code)).Select(p => p.Code));
        }
        return missing;
    }

    /// <summary>When each piece was last on a sheet of a part of its order, by its code.</summary>
    internal static async Task<Dictionary<string, DateTimeOffset>> LastAsync(ShopContext context, Order order, CancellationToken cancel)
    {
        var (subject, stamp) = Entry(order);
        var parts = await context
            .Audit.AsNoTracking()
            .Where(a => a.What == What && a.Subject == subject && a.Before == stamp)
            .Select(a => new { a.After, a.At })
            .ToListAsync(cancel);
        return parts
            .SelectMany(p => p.After.Split(' '), (p, code) => (Code: code, p.At))
            .GroupBy(p => p.Code, p => p.At, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Max(), StringComparer.Ordinal);
    }

    /// <summary>
    /// A piece takes the place of a lost one: the transfer of that one is its own when it was printed and never taped on.
    /// </summary>
    /// <returns>True when there is such a transfer.</returns>
    internal static async Task<bool> PassOnAsync(CommandWork work, Order order, Piece lost, string code, CancellationToken cancel)
    {
        var journal = await work.Context.Journal.AsNoTracking().Where(j => j.Piece == lost.Id).ToListAsync(cancel);
        if (journal.Exists(j => j.Read() is PictureBound))
            return false;
        var isPrinted =
            await MadeAtAsync(work.Context, lost.Id, cancel) <= order.PrintedAt
            || (await CodesAsync(work.Context, order, cancel)).Contains(lost.Code);
        var (subject, stamp) = Entry(order);
        if (isPrinted)
            work.Audit(What, subject, stamp, code);
        return isPrinted;
    }

    private static Task<DateTimeOffset> MadeAtAsync(ShopContext context, PieceId piece, CancellationToken cancel) =>
        context.Journal.Where(j => j.Piece == piece).OrderBy(j => j.Sequence).Select(j => j.At).FirstAsync(cancel);

    // A sheet that was printed before a picture or a text was changed is waste: the stamp tells.
    private static (string Subject, string Stamp) Entry(Order order) => ($"order {order.Number}", ProofStamp.Of(order));
}
