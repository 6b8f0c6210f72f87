using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Insight;

/// <summary>
/// What pieces bring before tax: as agreed, and where they stand on an invoice at another rate than at booking, as invoiced there. A price that
/// was agreed with tax stays, so another rate changes what of it is the workshop's.
/// </summary>
internal sealed class InvoicedNet
{
    private readonly ILookup<OrderId, IssuedInvoice> newestFirst;

    private InvoicedNet(ILookup<OrderId, IssuedInvoice> newestFirst) => this.newestFirst = newestFirst;

    public static async Task<InvoicedNet> LoadAsync(ShopContext context, IReadOnlyList<OrderId> orders, CancellationToken cancel)
    {
        var rows = await context
            .Documents.AsNoTracking()
            .Where(d => orders.Contains(d.Order) && d.Kind != Reminders.Kind)
            .Select(d => new
            {
                d.Id,
                d.Order,
                d.At,
                d.Json,
            })
            .ToListAsync(cancel);
        return new InvoicedNet(
            rows.OrderByDescending(r => r.At)
                .ThenByDescending(r => r.Id)
                .Select(r => (r.Order, Document: OrderAccount.Read(r.Json)))
                .Where(r => r.Document.Content.Kind is DocumentKind.Invoice or DocumentKind.PartInvoice or DocumentKind.Receipt)
                .ToLookup(r => r.Order, r => r.Document)
        );
    }

    /// <summary>Of some pieces of a line. What was taken back and invoiced anew counts as it was invoiced last.</summary>
    public decimal Of(Order order, OrderLine line, int pieces)
    {
        var agreed = order.NetOf(line) / line.Quantity;
        var (sum, left) = (0m, (decimal)line.Quantity);
        foreach (var part in newestFirst[order.Id].SelectMany(d => CreditedLines.Of(d, line)).Where(p => p.Line.Quantity > 0m))
        {
            var count = Math.Min(left, part.Line.Quantity);
            sum += count * (part.Line.Tax.Percent == line.Price.TaxPercent ? agreed : part.Net / part.Line.Quantity);
            left -= count;
        }
        return (sum + left * agreed) * pieces / line.Quantity;
    }
}
