using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>An invoice as it stands.</summary>
internal sealed record OpenInvoice(Guid Id, OrderId Order, OpenItem Item);

/// <summary>Reads an invoice against its payments, credit notes and reminders.</summary>
internal static class OpenInvoices
{
    public static async Task<OpenInvoice?> LoadAsync(ShopContext context, Guid id, CancellationToken cancel)
    {
        // Without the papers as they were printed: they are large, and lists ask this of every late invoice.
        var row = await context
            .Documents.Where(d => d.Id == id && d.Kind != Reminders.Kind)
            .Select(d => new { d.Order, d.Json })
            .FirstOrDefaultAsync(cancel);
        if (row is null)
            return null;
        // Of the same order, whose index finds them.
        var later = await context
            .Documents.Where(d => d.Order == row.Order && d.Corrects == id)
            .OrderBy(d => d.At)
            .Select(d => new
            {
                d.Kind,
                d.Day,
                d.Json,
            })
            .ToListAsync(cancel);
        var payments = await context
            .Payments.AsNoTracking()
            .Where(p => p.Document == id && p.Means != InvoiceTerms.Allocated)
            .ToListAsync(cancel);
        var item = new OpenItem(
            OrderAccount.Read(row.Json),
            [.. payments.Select(p => new Payment(p.Day, p.Amount, p.Means, p.Note))],
            [.. later.Where(d => d.Kind != Reminders.Kind).Select(d => OrderAccount.Read(d.Json))]
        )
        {
            Sent = [.. later.Where(d => d.Kind == Reminders.Kind).Select(d => Reminders.Read(d.Json, d.Day))],
        };
        return new OpenInvoice(id, row.Order, item);
    }
}
