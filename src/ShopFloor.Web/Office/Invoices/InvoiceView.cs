using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A line as the page shows it.</summary>
/// <param name="Left">Quantity that no credit note has taken back; 0 for a deposit taken off, which is not taken back by itself.</param>
public sealed record InvoiceLineRow(string Id, string Name, decimal Quantity, decimal Left, decimal Net);

/// <summary>A payment or a later document, in one list by day.</summary>
public sealed record InvoiceMove(DateOnly Day, string What, decimal Amount, Guid? Document);

/// <summary>A sum with its name.</summary>
public sealed record InvoiceSum(string Name, decimal Amount);

/// <summary>One issued document as the page shows it.</summary>
public sealed record InvoiceDetail(
    Guid Id,
    string Kind,
    string Number,
    string Customer,
    string Order,
    DateOnly Day,
    DateOnly? Due,
    string Currency,
    decimal Outstanding,
    int DaysLate,
    string? NextReminder,
    bool HasXml,
    string Sha256,
    bool IsUnchanged,
    DateOnly Today,
    IReadOnlyList<InvoiceLineRow> Lines,
    IReadOnlyList<InvoiceSum> Sums,
    IReadOnlyList<InvoiceMove> Moves
)
{
    /// <summary>Still open with the fee and interest that the last reminder asks for.</summary>
    public decimal Asked { get; init; }

    /// <summary>Deposit invoices of its order that have to be taken back now.</summary>
    public IReadOnlyList<StrandedDeposit> Stranded { get; init; } = [];

    /// <summary>What came in beyond the invoice for interest and fee of a reminder.</summary>
    public IReadOnlyList<InvoiceSum> Extras { get; init; } = [];
}

/// <summary>Reads one issued document, and proves it unchanged by its hash.</summary>
public sealed class InvoiceView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>By its number; null when there is none.</summary>
    public async Task<InvoiceDetail?> LoadAsync(string number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var row = await context.Documents.AsNoTracking().FirstOrDefaultAsync(d => d.Number == number && d.Kind != Reminders.Kind, cancel);
        if (row is null || await OpenInvoices.LoadAsync(context, row.Id, cancel) is not { } open)
            return null;
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        var today = settings.Day(time.GetUtcNow());
        var later = await context
            .Documents.AsNoTracking()
            .Where(d => d.Order == row.Order && d.Corrects == row.Id)
            .Select(d => new
            {
                d.Id,
                d.Kind,
                d.Number,
                d.Day,
                d.Total,
            })
            .ToListAsync(cancel);
        var (item, content) = (open.Item, open.Item.Invoice.Content);
        var isNote = content.Kind == DocumentKind.CreditNote;
        return new InvoiceDetail(
            row.Id,
            row.Kind,
            row.Number,
            row.CustomerName,
            content.OrderCode ?? "",
            row.Day,
            row.Due,
            row.Currency,
            isNote ? 0m : item.Outstanding,
            isNote ? 0 : item.DaysLate(today),
            isNote ? null : Dunning.Next(item, settings.Invoices.Reminders, open.Item.Sent, today)?.Level.Name,
            row.Xml.Length > 0,
            row.Sha256,
            string.Equals(KeepDocument.Hash(row.Json, row.Xml, row.Pdf), row.Sha256, StringComparison.Ordinal),
            today,
            [.. CreditNotes.Creditable(item.Invoice).Select(l => Line(l, item))],
            [.. Sums(item.Invoice)],
            [
                .. item
                    .Payments.Select(p => new InvoiceMove(p.Day, $"{p.Means} {p.Reference}".Trim(), -p.Amount, null))
                    .Concat(
                        later.Select(d => new InvoiceMove(d.Day, $"{d.Kind} {d.Number}", d.Kind == Reminders.Kind ? 0m : -d.Total, d.Id))
                    )
                    .OrderBy(m => m.Day),
            ]
        )
        {
            Asked = isNote ? 0m : item.Asked,
            Extras = [.. Extras(item)],
            Stranded = (await OrderAccount.LoadAsync(context, row.Order, time.GetUtcNow(), cancel))?.Stranded ?? [],
        };
    }

    /// <summary>A kept paper.</summary>
    /// <param name="id">The document.</param>
    /// <param name="xml">The e-invoice instead of the PDF.</param>
    /// <param name="cancel">Ends the read.</param>
    /// <returns>File name and bytes, or null when there is none.</returns>
    public async Task<(string Name, byte[] Bytes)?> PaperAsync(Guid id, bool xml, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var row = await context.Documents.AsNoTracking().FirstOrDefaultAsync(d => d.Id == id, cancel);
        if (row is null || (xml && row.Xml.Length == 0))
            return null;
        return xml ? ($"{row.Number}.xml", System.Text.Encoding.UTF8.GetBytes(row.Xml)) : ($"{row.Number}.pdf", row.Pdf);
    }

    private static InvoiceLineRow Line(CreditableLine line, OpenItem item)
    {
        var isWhole = item.CreditNotes.Any(n => n.Content.Adjustments.Count > 0);
        var back = item.CreditNotes.SelectMany(n => n.Content.Lines).Where(l => l.Id == line.Line.Id).Sum(l => l.Quantity);
        var left = isWhole || Deposits.IsDeduction(line.Line) ? 0m : line.Line.Quantity - back;
        return new InvoiceLineRow(line.Line.Id, line.Line.Name, line.Line.Quantity, left, line.Net);
    }

    private static IEnumerable<InvoiceSum> Extras(OpenItem item)
    {
        if (item.InterestReceived > 0m)
            yield return new("Received for interest", item.InterestReceived);
        if (item.FeeReceived > 0m)
            yield return new("Received for the fee", item.FeeReceived);
    }

    private static IEnumerable<InvoiceSum> Sums(IssuedInvoice invoice)
    {
        foreach (var change in invoice.Content.Adjustments)
            yield return new(change.Adjustment.Reason, (change.Adjustment.IsCharge ? 1 : -1) * (change.Shown ?? change.Adjustment.Amount));
        var taxed = invoice.Content.Settings.Scheme != TaxScheme.None;
        if (taxed)
            yield return new("Without tax", invoice.Totals.WithoutTax);
        foreach (var group in invoice.Totals.Groups.Where(g => taxed || g.Tax != 0m))
            yield return new(
                string.Create(CultureInfo.InvariantCulture, $"{invoice.Content.Settings.Label} {group.Kind.Percent:0.##} %"),
                group.Tax
            );
        if (invoice.Totals.Rounding != 0m)
            yield return new("Rounding", invoice.Totals.Rounding);
        yield return new("Total", invoice.Totals.Payable);
        if (invoice.Totals.Paid != 0m)
            yield return new("Already paid", -invoice.Totals.Paid);
    }
}
