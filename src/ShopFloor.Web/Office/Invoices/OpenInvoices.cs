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
        var row = await context.Documents.AsNoTracking().FirstOrDefaultAsync(d => d.Id == id && d.Kind != Reminders.Kind, cancel);
        if (row is null)
            return null;
        var later = await context.Documents.AsNoTracking().Where(d => d.Corrects == id).ToListAsync(cancel);
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
            Sent = [.. later.Where(d => d.Kind == Reminders.Kind).Select(Reminders.Read)],
        };
        return new OpenInvoice(id, row.Order, item);
    }
}
