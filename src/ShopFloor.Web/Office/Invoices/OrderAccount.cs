using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A deposit invoice that stands though no invoice will take it off any more.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Paid">What was paid for it.</param>
public sealed record StrandedDeposit(string Number, decimal Paid);

/// <summary>Everything about the money of one order, read in one go inside the command that needs it.</summary>
public sealed record OrderAccount(
    Order Order,
    Customer Customer,
    CurrentSettings Settings,
    IReadOnlyList<LineAccount> Lines,
    IReadOnlyList<(Guid Id, IssuedInvoice Document)> Issued,
    IReadOnlyList<PaymentRecord> Payments
)
{
    private IEnumerable<IssuedInvoice> CreditNotes => Issued.Select(i => i.Document).Where(d => d.Content.Kind == DocumentKind.CreditNote);

    /// <summary>Payments on account that no invoice has used yet.</summary>
    public decimal OnAccount => Payments.Where(p => p.Document is null).Sum(p => p.Amount);

    /// <summary>Charges that stand on no invoice that holds.</summary>
    public IReadOnlyList<OrderCharge> OpenCharges =>
        [.. Order.Charges.Where(c => Invoiced([.. Issued], ChargeId(c)) <= 0m && !IsWaived(c))];

    /// <summary>Whether a credit note took a charge back for which nothing more is asked.</summary>
    private bool IsWaived(OrderCharge charge) =>
        Invoiced([.. Issued], ChargeId(charge)) <= 0m
        && Issued.Any(i => i.Document.Content.AsksNoMore && QuantityOf(i.Document, ChargeId(charge)) > 0m);

    /// <summary>Whether no invoice that stands has used anything of a discount.</summary>
    public bool IsUnused(OrderDiscount discount) => discount.Shares.All(s => Lines.First(l => l.Line.Number == s.Line).Invoiced <= s.From);

    /// <summary>Whether pieces or charges are left that stand on no invoice.</summary>
    public bool HasToInvoice => OpenCharges.Count > 0 || Lines.Any(l => l.Invoiced < l.Whole);

    /// <summary>True when what is open now is all that is left: the final invoice. What was lost is waited for no more.</summary>
    public bool IsFinal => Lines.All(l => l.Invoiced + l.Open >= l.Whole);

    /// <summary>Deposit invoices that no invoice will take off any more: what was left to invoice was lost.</summary>
    public IReadOnlyList<IssuedInvoice> StrandedDeposits => HasToInvoice ? [] : OpenDeposits;

    /// <summary>Deposit invoices neither taken back nor taken off by an invoice: one that was taken back in part holds the deduction.</summary>
    public IReadOnlyList<IssuedInvoice> OpenDeposits =>
        [
            .. Issued
                .Select(i => i.Document)
                .Where(d => d.Content.Kind == DocumentKind.DepositInvoice && !IsCredited(d) && TakenOffBy(d) is null),
        ];

    /// <summary>The invoice that took a deposit off and has not given that back; null: none.</summary>
    public IssuedInvoice? TakenOffBy(IssuedInvoice deposit) =>
        Issued.Select(i => i.Document).FirstOrDefault(d => TakesOff(d, deposit) && !GaveBackDeductions(d));

    /// <summary>Whether its amounts were agreed with tax.</summary>
    public bool WithTax => Order.IsWithTax(Settings.Profile.PricesIncludeTax);

    /// <summary>Whether it was agreed while the workshop lived under no tax at all, and its document goes by another system.</summary>
    public bool IsAgreedUntaxed { get; init; }

    /// <summary>Whether the order was called off.</summary>
    public bool IsOff => Order.CancelledAt is not null;

    /// <summary>Deposit invoices that no credit note has taken back.</summary>
    public IReadOnlyList<(Guid Id, IssuedInvoice Document)> DepositInvoices =>
        [.. Issued.Where(i => i.Document.Content.Kind == DocumentKind.DepositInvoice && !IsCredited(i.Document))];

    /// <summary>The deposit: as it was invoiced, before that as it is asked for; an order that was called off asks for none.</summary>
    public decimal Deposit =>
        DepositInvoices is { Count: > 0 } invoiced ? invoiced.Sum(d => d.Document.Totals.Payable)
        : IsOff ? 0m
        : Order.Deposit;

    /// <summary>Money of an order that was called off which belongs to the customer: what was paid, less what stands invoiced beside deposits.</summary>
    public decimal ToGoBack
    {
        get
        {
            if (!IsOff)
                return 0m;
            var open = OpenDeposits;
            var kept = Issued.Select(i => i.Document).Where(d => !open.Contains(d)).Sum(d => Sign(d) * d.Totals.Payable);
            return Math.Max(0m, Payments.Sum(p => p.Amount) - kept);
        }
    }

    /// <summary>What all of it that is neither lost nor back on the shelf comes to with tax; of an order that was called off, what is made or invoiced.</summary>
    public decimal Agreed
    {
        get
        {
            var pieces = Lines.Sum(l =>
                Order.GrossOf(l.Line) * (IsOff ? Math.Max(l.Invoiced, Math.Min(l.Ready, l.Line.Quantity)) : l.Owed) / l.Line.Quantity
            );
            var factor = WithTax ? 1m : 1m + Settings.ChargePercentOn(Settings.Day(Order.BookedAt)) / 100m;
            return Money.Round(pieces + Order.Charges.Where(c => !IsWaived(c)).Sum(c => c.Amount) * factor);
        }
    }

    /// <summary>Fee and interest that the last reminders ask for; they are no part of the price.</summary>
    public decimal Extras { get; init; }

    /// <summary>What all documents ask for in all, less what credit notes took back.</summary>
    public decimal Asked => Issued.Sum(i => Sign(i.Document) * i.Document.Totals.Payable);

    /// <summary>What came in, less what went back.</summary>
    public decimal Paid => Payments.Sum(p => p.Amount);

    /// <summary>What is still to come in for all of it that is not lost, with tax. Below zero: too much came in.</summary>
    public decimal ToCome => Agreed - Paid;

    /// <summary>What is left to pay: what was agreed, and once all of it stands on invoices what these ask for. Below zero: too much came in.</summary>
    /// <remarks>A deposit that no invoice will take off any more is asked for no longer, though its invoice still has to be taken back.</remarks>
    public decimal LeftToPay => OpenItem.Left((IsAllAsked ? Asked - StrandedDeposits.Sum(d => d.Totals.Payable) : Agreed) - Paid, Extras);

    /// <summary>What was paid for the deposits that no invoice will take off any more: it belongs to the customer.</summary>
    public IReadOnlyList<StrandedDeposit> Stranded =>
        [
            .. StrandedDeposits.Select(d => new StrandedDeposit(
                d.Number,
                Payments.Where(p => p.Document == Issued.First(i => i.Document == d).Id).Sum(p => p.Amount)
            )),
        ];

    // What is back on the shelf is asked for by no document; a deposit that the last invoice is to take off would count twice.
    private bool IsAllAsked =>
        Issued.Count > 0 && OpenCharges.Count == 0 && Lines.All(l => l.Invoiced >= l.Owed) && (!HasToInvoice || OpenDeposits.Count == 0);

    /// <summary>Reads it; null when there is no such order.</summary>
    public static async Task<OrderAccount?> LoadAsync(ShopContext context, OrderId id, DateTimeOffset now, CancellationToken cancel) =>
        (await LoadAsync(context, [id], await CurrentSettings.LoadAsync(context, now, cancel), cancel)).FirstOrDefault();

    /// <summary>Reads those of several orders, in as many questions as for one.</summary>
    internal static async Task<IReadOnlyList<OrderAccount>> LoadAsync(
        ShopContext context,
        IReadOnlyList<OrderId> ids,
        CurrentSettings settings,
        CancellationToken cancel
    )
    {
        var orders = await context.Orders.AsNoTracking().Where(o => ids.Contains(o.Id)).ToListAsync(cancel);
        var holders = orders.Select(o => o.Customer).Distinct().ToList();
        var customers = await context.Customers.AsNoTracking().Where(c => holders.Contains(c.Id)).ToDictionaryAsync(c => c.Id, cancel);
        var papers = await PapersAsync(context, ids, cancel);
        var payments = (
            await context.Payments.AsNoTracking().Where(p => p.Order != null && ids.Contains(p.Order.Value)).ToListAsync(cancel)
        ).ToLookup(p => p.Order!.Value);
        var pieces = await LineAccount.PiecesAsync(context, ids, cancel);
        return [.. orders.Select(o => Of(o, customers[o.Customer], settings, [.. papers[o.Id]], [.. payments[o.Id]], pieces[o.Id]))];
    }

    private static OrderAccount Of(
        Order order,
        Customer customer,
        CurrentSettings settings,
        IReadOnlyList<Paper> papers,
        IReadOnlyList<PaymentRecord> payments,
        IEnumerable<LineAccount.PieceRow> pieces
    )
    {
        var issued = papers.Where(p => p.Kind != Reminders.Kind).Select(p => (p.Id, Read(p.Json))).ToList();
        var sent = papers.Where(p => p.Kind == Reminders.Kind).ToLookup(p => p.Corrects, p => Reminders.Read(p.Json, p.Day));
        return new OrderAccount(order, customer, settings, LineAccount.Of(order, settings, issued, pieces), issued, payments)
        {
            Extras = sent.Sum(s => OpenItem.ExtrasOf([.. s])),
        };
    }

    private sealed record Paper(Guid Id, OrderId Order, string Kind, DateOnly Day, Guid? Corrects, string Json, DateTimeOffset At);

    private static async Task<ILookup<OrderId, Paper>> PapersAsync(
        ShopContext context,
        IReadOnlyList<OrderId> ids,
        CancellationToken cancel
    ) =>
        (
            await context
                .Documents.AsNoTracking()
                .Where(d => ids.Contains(d.Order))
                .Select(d => new Paper(d.Id, d.Order, d.Kind, d.Day, d.Corrects, d.Json, d.At))
                .ToListAsync(cancel)
        )
            .OrderBy(d => d.At)
            .ThenBy(d => d.Id)
            .ToLookup(d => d.Order);

    /// <summary>What the invoices that stand ask for a line before tax: with its share of the discounts, less what credit notes took back.</summary>
    public decimal InvoicedNet(OrderLine line) =>
        Issued
            .Select(i => i.Document)
            .Where(d => d.Content.Kind != DocumentKind.DepositInvoice && !IsOfDeposit(d, [.. Issued]))
            .Sum(d => Sign(d) * Domain.Invoicing.CreditNotes.Creditable(d).Where(c => IsOf(c.Line.Id, LineId(line))).Sum(c => c.Net));

    /// <summary>How much of a line of an invoice no credit note has taken back.</summary>
    /// <param name="invoice">The invoice.</param>
    /// <param name="line">The line's id on it.</param>
    public decimal LeftToCredit(IssuedInvoice invoice, string line) =>
        invoice.Content.Lines.Where(l => l.Id == line).Sum(l => l.Quantity)
        - CreditNotes
            .Where(n => n.Content.Preceding.Contains(invoice.Reference))
            .SelectMany(n => n.Content.Lines)
            .Where(l => l.Id == line)
            .Sum(l => l.Quantity);

    /// <summary>A document as it was issued.</summary>
    public static IssuedInvoice Read(string json) => JsonSerializer.Deserialize<IssuedInvoice>(json, JsonForms.Default)!;

    /// <summary>The id of an order line on documents.</summary>
    public static string LineId(OrderLine line) => line.Number.ToString(CultureInfo.InvariantCulture);

    /// <summary>The id of a charge on documents.</summary>
    public static string ChargeId(OrderCharge charge) => string.Create(CultureInfo.InvariantCulture, $"S{charge.Number}");

    // A line that was cut at a change of tax stands as 1 and 1/2.
    private static bool IsOf(string onDocument, string id) => onDocument == id || onDocument.StartsWith(id + "/", StringComparison.Ordinal);

    internal static decimal Invoiced(List<(Guid Id, IssuedInvoice Document)> issued, string id) =>
        issued
            .Where(i => i.Document.Content.Kind != DocumentKind.DepositInvoice && !IsOfDeposit(i.Document, issued))
            .Sum(i => Sign(i.Document) * QuantityOf(i.Document, id));

    /// <summary>How much of a line or charge of the order stands on a document.</summary>
    internal static decimal QuantityOf(IssuedInvoice document, string id) =>
        document.Content.Lines.Where(l => IsOf(l.Id, id)).Sum(l => l.Quantity);

    private static int Sign(IssuedInvoice document) => document.Content.Kind == DocumentKind.CreditNote ? -1 : 1;

    private static bool IsOfDeposit(IssuedInvoice note, List<(Guid Id, IssuedInvoice Document)> issued) =>
        note.Content.Kind == DocumentKind.CreditNote
        && issued.Exists(i =>
            i.Document.Content.Kind == DocumentKind.DepositInvoice && note.Content.Preceding.Contains(i.Document.Reference)
        );

    private bool IsCredited(IssuedInvoice document) => CreditNotes.Any(n => n.Content.Preceding.Contains(document.Reference));

    private bool GaveBackDeductions(IssuedInvoice invoice) =>
        CreditNotes.Any(n => n.Content.Preceding.Contains(invoice.Reference) && n.Content.Lines.Any(Deposits.IsDeduction));

    private static bool TakesOff(IssuedInvoice invoice, IssuedInvoice deposit) =>
        invoice.Content.Kind is DocumentKind.Invoice or DocumentKind.PartInvoice or DocumentKind.Receipt
        && invoice.Content.Preceding.Contains(deposit.Reference);
}
