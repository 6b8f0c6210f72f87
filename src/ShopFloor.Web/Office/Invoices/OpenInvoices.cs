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
    public static async Task<OpenInvoice?> LoadAsync(ShopContext context, Guid id, CancellationToken cancel) =>
        (await LoadAsync(context, [id], cancel)).FirstOrDefault();

    /// <summary>Reads several, in as many questions as for one.</summary>
    public static async Task<IReadOnlyList<OpenInvoice>> LoadAsync(
        ShopContext context,
        IReadOnlyCollection<Guid> ids,
        CancellationToken cancel
    )
    {
        // Without the papers as they were printed: they are large, and lists ask this of every late invoice.
        var rows = await context
            .Documents.Where(d => ids.Contains(d.Id) && d.Kind != Reminders.Kind)
            .Select(d => new
            {
                d.Id,
                d.Order,
                d.Json,
            })
            .ToListAsync(cancel);
        if (rows.Count == 0)
            return [];
        // Of the same orders, whose index finds them.
        var orders = rows.Select(r => r.Order).Distinct().ToList();
        var later = (
            await context
                .Documents.Where(d => orders.Contains(d.Order) && d.Corrects != null)
                .OrderBy(d => d.At)
                .Select(d => new
                {
                    d.Corrects,
                    d.Kind,
                    d.Day,
                    d.Json,
                })
                .ToListAsync(cancel)
        ).ToLookup(d => d.Corrects);
        var payments = (
            await context
                .Payments.AsNoTracking()
                .Where(p => p.Document != null && ids.Contains(p.Document.Value) && p.Means != InvoiceTerms.Allocated)
                .ToListAsync(cancel)
        ).ToLookup(p => p.Document);
        return
        [
            .. rows.Select(row => new OpenInvoice(
                row.Id,
                row.Order,
                new OpenItem(
                    OrderAccount.Read(row.Json),
                    [.. payments[row.Id].Select(p => new Payment(p.Day, p.Amount, p.Means, p.Note))],
                    [.. later[row.Id].Where(d => d.Kind != Reminders.Kind).Select(d => OrderAccount.Read(d.Json))]
                )
                {
                    Sent = [.. later[row.Id].Where(d => d.Kind == Reminders.Kind).Select(d => Reminders.Read(d.Json, d.Day))],
                }
            )),
        ];
    }
}
