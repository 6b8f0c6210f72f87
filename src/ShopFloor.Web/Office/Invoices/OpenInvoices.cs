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
        var later = await LaterAsync(context, [.. rows.Select(r => r.Order).Distinct()], cancel);
        var payments = (
            await context
                .Payments.AsNoTracking()
                .Where(p => p.Document != null && ids.Contains(p.Document.Value) && p.Means != InvoiceTerms.Allocated)
                .ToListAsync(cancel)
        ).ToLookup(p => p.Document!.Value, p => new Payment(p.Day, p.Amount, p.Means, p.Note));
        return [.. rows.Select(r => new OpenInvoice(r.Id, r.Order, Item(r.Json, payments[r.Id], [.. later[r.Id]])))];
    }

    private sealed record Later(Guid Corrects, string Kind, DateOnly Day, string Json);

    /// <summary>Credit notes and reminders by their invoice, the earlier first: of its own order, whose index finds them.</summary>
    private static async Task<ILookup<Guid, Later>> LaterAsync(ShopContext context, List<OrderId> orders, CancellationToken cancel) =>
        (
            await context
                .Documents.Where(d => orders.Contains(d.Order) && d.Corrects != null)
                .OrderBy(d => d.At)
                .Select(d => new Later(d.Corrects!.Value, d.Kind, d.Day, d.Json))
                .ToListAsync(cancel)
        ).ToLookup(d => d.Corrects);

    private static OpenItem Item(string json, IEnumerable<Payment> payments, IReadOnlyList<Later> later) =>
        new(OrderAccount.Read(json), [.. payments], [.. later.Where(d => d.Kind != Reminders.Kind).Select(d => OrderAccount.Read(d.Json))])
        {
            Sent = [.. later.Where(d => d.Kind == Reminders.Kind).Select(d => Reminders.Read(d.Json, d.Day))],
        };
}
