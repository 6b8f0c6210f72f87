using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>Kinds of documents that carry a number and never change once issued.</summary>
public enum DocumentKind
{
    /// <summary>Invoice (380).</summary>
    Invoice,

    /// <summary>Part of an order is invoiced (326).</summary>
    PartInvoice,

    /// <summary>Invoice for a deposit, with its tax (386).</summary>
    DepositInvoice,

    /// <summary>Takes back all or part of an invoice (381). Its amounts are positive.</summary>
    CreditNote,

    /// <summary>Simplified invoice for a sale across the counter; the buyer need not be named, and it is no EN 16931 invoice.</summary>
    Receipt,
}

/// <summary>Everything a document says, before it has a number. Nothing in it is looked up again later.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Settings">Tax system, currency, rounding.</param>
/// <param name="Seller">The workshop.</param>
/// <param name="Buyer">The customer; null only on a receipt.</param>
/// <param name="Lines">At least one.</param>
public sealed record InvoiceDraft(DocumentKind Kind, TaxSettings Settings, Party Seller, Party? Buyer, IReadOnlyList<InvoiceLine> Lines)
{
    /// <summary>Allowances and charges on the whole.</summary>
    public IReadOnlyList<DocumentAdjustment> Adjustments { get; init; } = [];

    /// <summary>Why no tax is charged, once for each category that needs it.</summary>
    public IReadOnlyList<ExemptionReason> Reasons { get; init; } = [];

    /// <summary>Already paid on account without a tax document of its own (BT-113).</summary>
    public decimal Paid { get; init; }

    /// <summary>Added to the amount due: cash rounding, and the cent that prices with tax may leave (BT-114).</summary>
    public decimal Rounding { get; init; }

    /// <summary>Last day to pay (BT-9), or null.</summary>
    public DateOnly? DueDate { get; init; }

    /// <summary>Terms in words, early-payment discount included (BT-20), or null.</summary>
    public string? Terms { get; init; }

    /// <summary>Ways to pay; all of one code.</summary>
    public IReadOnlyList<PaymentMeans> PaymentMeans { get; init; } = [];

    /// <summary>When and to where, or null.</summary>
    public Delivery? Delivery { get; init; }

    /// <summary>Number of the order in the workshop (BT-14 in the paper's words; sent as sales order), or null.</summary>
    public string? OrderCode { get; init; }

    /// <summary>The buyer's own order number (BT-13), or null.</summary>
    public string? BuyersOrder { get; init; }

    /// <summary>The buyer's routing reference (BT-10), or null.</summary>
    public string? BuyerReference { get; init; }

    /// <summary>Documents that this one follows: the invoice credited, the deposits deducted.</summary>
    public IReadOnlyList<PrecedingDocument> Preceding { get; init; } = [];

    /// <summary>Of a credit note: nothing more is asked for what it takes back. False: it is invoiced anew.</summary>
    public bool AsksNoMore { get; init; }

    /// <summary>Language of its paper, as two letters (ISO 639-1).</summary>
    public string Language { get; init; } = "en";

    /// <summary>Free words (BT-22), or null.</summary>
    public string? Note { get; init; }

    /// <summary>The sums.</summary>
    public DocumentTotals Totals() => DocumentTotals.Of(Lines, Adjustments, Paid, Rounding, Settings.Rounding);

    /// <summary>The draft with the rounding that makes it come to a promised amount with tax, before what is paid on account.</summary>
    public InvoiceDraft Promising(decimal payable) => this with { Rounding = payable - Totals().WithTax };

    /// <summary>The draft with its amount due rounded to the currency's coin, or to the cash step when it is paid in cash.</summary>
    public InvoiceDraft RoundedForPayment(bool cash)
    {
        var coin = Apportion.Coin(Money.MinorDigits(Settings.Currency));
        var step = cash ? Math.Max(coin, Settings.CashStep) : coin;
        return this with { Rounding = Rounding + CashRounding.Difference(Totals().Due, step) };
    }

    /// <summary>
    /// Issues the document. The number must have been drawn in the transaction that stores it, so that numbers have no gap.
    /// </summary>
    /// <param name="number">Number in its series (BT-1).</param>
    /// <param name="date">Day of issue (BT-2).</param>
    /// <returns>The document that never changes, or everything that is wrong with the draft.</returns>
    public Result<IssuedInvoice> Issue(string number, DateOnly date)
    {
        var found = InvoiceRules.Check(this, date);
        return found.Count > 0 ? Result<IssuedInvoice>.Refused(found) : new IssuedInvoice(number, date, this, Totals());
    }
}

/// <summary>A document as issued. It is stored with its paper and its hash, and only a credit note can undo it.</summary>
/// <param name="Number">Number in its series.</param>
/// <param name="Date">Day of issue.</param>
/// <param name="Content">Everything it says.</param>
/// <param name="Totals">Its sums as of the day of issue.</param>
public sealed record IssuedInvoice(string Number, DateOnly Date, InvoiceDraft Content, DocumentTotals Totals)
{
    /// <summary>Reference to it from a later document.</summary>
    public PrecedingDocument Reference => new(Number, Date);

    /// <summary>Amount due in its currency.</summary>
    public Money Due => new(Totals.Due, Content.Settings.Currency);

    /// <summary>Whether it can be exported as an EN 16931 invoice.</summary>
    public bool AllowsEInvoice => Content.Settings.AllowsEInvoice && Content.Kind != DocumentKind.Receipt && Content.Buyer is not null;
}
