using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Invoicing;

/// <summary>
/// Credit notes. One for the whole mirrors the invoice amount by amount. Parts are cut so that all of them together come to exactly the invoice: net
/// amounts are differences of running sums, and the last note's rounding closes what is payable. The tax of each note is its own group's tax rounded
/// once (BR-CO-17), so the tax of several parts may differ from the invoice's by a cent for each; that cent stands in the rounding.
/// </summary>
public static class CreditNotes
{
    /// <summary>A note for the whole invoice: same lines, allowances, charges and rounding. For an invoice without earlier notes.</summary>
    /// <param name="invoice">What is taken back.</param>
    /// <param name="reason">Why, for the reader.</param>
    /// <param name="terms">How the money goes back, for the reader.</param>
    public static InvoiceDraft Full(IssuedInvoice invoice, string reason, string terms) =>
        Frame(invoice, reason, terms) with
        {
            Lines = invoice.Content.Lines,
            Adjustments = invoice.Content.Adjustments,
            Rounding = invoice.Totals.Rounding,
        };

    /// <summary>What can be credited piece by piece: the lines with their share of the discounts, and the charges as C1, C2 …</summary>
    public static IReadOnlyList<CreditableLine> Creditable(IssuedInvoice invoice)
    {
        var content = invoice.Content;
        var nets = content.Lines.Select(l => l.Net()).ToArray();
        var shown = content.Lines.Select(l => l.Shown?.Amount ?? 0m).ToArray();
        foreach (var allowance in content.Adjustments.Where(a => !a.Adjustment.IsCharge))
        {
            TakeOff(allowance, allowance.Adjustment.Amount, content, nets);
            TakeOff(allowance, allowance.Shown ?? 0m, content, shown);
        }
        var lines = content.Lines.Select((l, i) => new CreditableLine(Reduced(l, shown[i]), nets[i]));
        var charges = content
            .Adjustments.Where(a => a.Adjustment.IsCharge && a.Adjustment.Amount != 0m)
            .Select(
                (a, i) =>
                    new CreditableLine(
                        new InvoiceLine($"C{i + 1}", a.Adjustment.Reason, 1m, UnitCodes.One, a.Adjustment.Amount, a.Tax),
                        a.Adjustment.Amount
                    )
            );
        return [.. lines, .. charges];
    }

    /// <summary>
    /// A note for parts of an invoice. A deposit that the invoice took off stays taken off while anything else of it stands; it is given back with the
    /// last of it, unless the customer would owe that note.
    /// </summary>
    /// <param name="invoice">What is taken back in part.</param>
    /// <param name="earlier">All earlier notes for it.</param>
    /// <param name="quantities">Quantity taken back by line id, of the line's own sign; ids of <see cref="Creditable"/>.</param>
    /// <param name="reason">Why, for the reader.</param>
    /// <param name="terms">How the money goes back, for the reader.</param>
    /// <returns>The draft, or what is wrong with the quantities.</returns>
    public static Result<InvoiceDraft> Part(
        IssuedInvoice invoice,
        IReadOnlyList<IssuedInvoice> earlier,
        IReadOnlyDictionary<string, decimal> quantities,
        string reason,
        string terms
    )
    {
        var shares = Creditable(invoice).Select(l => CreditShare.Of(l, earlier, quantities.GetValueOrDefault(l.Line.Id))).ToList();
        IReadOnlyList<Refusal> refusals = [.. shares.SelectMany(s => s.Check()), .. Unknown(shares, quantities)];
        if (refusals.Count > 0)
            return Result<InvoiceDraft>.Refused(refusals);
        if (shares.All(s => s.Quantity == 0m))
            return new Refusal("nothing-to-credit", "Say of which lines how much is taken back.");
        var part = Cut(invoice, earlier, shares, reason, terms);
        if (!shares.Exists(s => s.IsDeduction) || !shares.TrueForAll(s => s.IsDeduction || s.IsWhole))
            return part;
        var whole = Cut(invoice, earlier, [.. shares.Select(s => s.IsDeduction ? s.Completed : s)], reason, terms);
        return whole.Totals().Payable < 0m ? part : whole;
    }

    private static InvoiceDraft Cut(
        IssuedInvoice invoice,
        IReadOnlyList<IssuedInvoice> earlier,
        IReadOnlyList<CreditShare> shares,
        string reason,
        string terms
    )
    {
        var gross = invoice.Content.Settings.PricesIncludeTax;
        var draft = Frame(invoice, reason, terms) with { Lines = gross ? CreditShare.GrossLines(shares) : CreditShare.NetLines(shares) };
        if (shares.All(s => s.IsWhole))
            return draft.Promising(invoice.Totals.Payable - earlier.Sum(n => n.Totals.Payable));
        return gross ? draft.Promising(Money.Round(shares.Sum(s => s.GrossNow))) : draft.RoundedForPayment(cash: false);
    }

    /// <summary>A note for all that earlier notes have left.</summary>
    /// <returns>The draft, or the refusal that nothing is left.</returns>
    public static Result<InvoiceDraft> Rest(IssuedInvoice invoice, IReadOnlyList<IssuedInvoice> earlier, string reason, string terms)
    {
        if (earlier.Count == 0)
            return Full(invoice, reason, terms);
        var left = Creditable(invoice)
            .Select(l => CreditShare.Of(l, earlier, 0m))
            .Where(s => !s.IsDeduction)
            .ToDictionary(s => s.Line.Line.Id, s => s.Completed.Quantity);
        return Part(invoice, earlier, left, reason, terms);
    }

    private static InvoiceDraft Frame(IssuedInvoice invoice, string reason, string terms) =>
        invoice.Content with
        {
            Kind = DocumentKind.CreditNote,
            Lines = [],
            Adjustments = [],
            Paid = 0m,
            Rounding = 0m,
            DueDate = null,
            Terms = terms,
            PaymentMeans = [],
            Preceding = [invoice.Reference],
            Note = reason,
        };

    /// <summary>Spreads a discount on the whole over the pieces of its tax group; where there are none, over all lines that it can be taken from.</summary>
    private static void TakeOff(DocumentAdjustment allowance, decimal amount, InvoiceDraft content, decimal[] sums)
    {
        var members = Enumerable.Range(0, sums.Length).Where(i => content.Lines[i].Tax == allowance.Tax && sums[i] > 0m).ToList();
        if (members.Exists(i => content.Lines[i].Unit == UnitCodes.Piece))
            members.RemoveAll(i => content.Lines[i].Unit != UnitCodes.Piece);
        if (members.Count == 0)
            return;
        var shares = Apportion.ByWeight(amount, [.. members.Select(i => sums[i])], 2);
        for (var i = 0; i < members.Count; i++)
            sums[members[i]] -= shares[i];
    }

    /// <summary>What was shown for a line, after its share of the discounts on the whole.</summary>
    private static InvoiceLine Reduced(InvoiceLine line, decimal amount) =>
        line.Shown is { } shown && shown.Amount != amount
            ? line with
            {
                Shown = new ShownPrice(Money.Round(amount / line.Quantity, 4), 0m, amount),
            }
            : line;

    private static IEnumerable<Refusal> Unknown(List<CreditShare> shares, IReadOnlyDictionary<string, decimal> quantities) =>
        quantities
            .Keys.Where(id => shares.TrueForAll(s => !string.Equals(s.Line.Line.Id, id, StringComparison.Ordinal)))
            .Order(StringComparer.Ordinal)
            .Select(id => new Refusal("no-such-line", $"The invoice has no line {id}.", id));
}
