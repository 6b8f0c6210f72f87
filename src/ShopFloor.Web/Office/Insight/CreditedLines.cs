using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Insight;

/// <summary>What credit notes took back of an order line in a month.</summary>
/// <param name="Order">The order.</param>
/// <param name="Line">Its line.</param>
/// <param name="Net">Before tax; below zero when something taken back before was invoiced again.</param>
internal sealed record CreditedLine(Order Order, OrderLine Line, decimal Net);

/// <summary>
/// Reads what credit notes took back for good. A note that only makes room for a better invoice takes nothing back: pieces that are invoiced
/// again count as sold again on the day of the new invoice, and pieces that were never handed over were never counted. Notes on deposits concern no
/// pieces.
/// </summary>
internal static class CreditedLines
{
    private sealed record Paper(DateOnly Day, IssuedInvoice Document);

    public static async Task<IReadOnlyList<CreditedLine>> LoadAsync(
        ShopContext context,
        Func<DateTimeOffset, DateOnly> day,
        (DateOnly From, DateOnly Until) month,
        CancellationToken cancel
    )
    {
        var touched = context.Documents.Where(d => d.Day >= month.From && d.Day < month.Until).Select(d => d.Order);
        var ids = await context
            .Documents.Where(d => d.Kind == DocumentWords.CreditNote && d.Day < month.Until && touched.Contains(d.Order))
            .Select(d => d.Order)
            .Distinct()
            .ToListAsync(cancel);
        if (ids.Count == 0)
            return [];
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var rows = await context
            .Documents.AsNoTracking()
            .Where(d => ids.Contains(d.Order) && d.Kind != Reminders.Kind)
            .Select(d => new
            {
                d.Order,
                d.Day,
                d.Json,
            })
            .ToListAsync(cancel);
        var papers = rows.ToLookup(r => r.Order, r => new Paper(r.Day, OrderAccount.Read(r.Json)));
        var given = await GivenAsync(context, ids, day, cancel);
        decimal Between(Order order, OrderLine line)
        {
            decimal UpToDay(DateOnly until) => UpTo([.. papers[order.Id]], line, given[line.Id].Count(d => d < until), until);
            return UpToDay(month.Until) - UpToDay(month.From);
        }
        return [.. orders.SelectMany(o => o.Lines.Select(l => new CreditedLine(o, l, Between(o, l))).Where(c => c.Net != 0m))];
    }

    /// <summary>The days on which pieces were handed over, by line.</summary>
    private static async Task<ILookup<OrderLineId, DateOnly>> GivenAsync(
        ShopContext context,
        IReadOnlyList<OrderId> ids,
        Func<DateTimeOffset, DateOnly> day,
        CancellationToken cancel
    ) =>
        (
            await context
                .Pieces.AsNoTracking()
                .Where(p => ids.Contains(p.Order) && p.State == PieceState.HandedOver)
                .IgnoreAutoIncludes()
                .Select(p => new { p.Line, p.ChangedAt })
                .ToListAsync(cancel)
        ).ToLookup(p => p.Line, p => day(p.ChangedAt));

    /// <summary>Net taken back of a line before a day: of pieces that were handed over and not invoiced again.</summary>
    private static decimal UpTo(IReadOnlyList<Paper> papers, OrderLine line, int given, DateOnly until)
    {
        var deposits = papers
            .Where(p => p.Document.Content.Kind == DocumentKind.DepositInvoice)
            .Select(p => p.Document.Reference)
            .ToHashSet();
        var known = papers
            .Where(p => p.Day < until && p.Document.Content.Kind != DocumentKind.DepositInvoice)
            .Where(p => p.Document.Content.Kind != DocumentKind.CreditNote || !p.Document.Content.Preceding.Any(deposits.Contains))
            .ToLookup(p => p.Document.Content.Kind == DocumentKind.CreditNote, p => p.Document);
        var back = known[true].SelectMany(d => Of(d, line)).ToList();
        var quantity = back.Sum(l => l.Line.Quantity);
        if (quantity <= 0m)
            return 0m;
        var invoiced = known[false].SelectMany(d => Of(d, line)).Sum(l => l.Line.Quantity);
        var again = Math.Max(0m, invoiced - line.Quantity);
        var here = Math.Max(0m, Math.Min(invoiced, line.Quantity) - given);
        return back.Sum(l => l.Net) * Math.Max(0m, quantity - again - here) / quantity;
    }

    /// <summary>The lines of a document that are of a line of the order, less their share of discounts.</summary>
    internal static IEnumerable<CreditableLine> Of(IssuedInvoice document, OrderLine line)
    {
        var id = OrderAccount.LineId(line);
        return CreditNotes.Creditable(document).Where(l => l.Line.Id == id || l.Line.Id.StartsWith(id + "/", StringComparison.Ordinal));
    }
}
