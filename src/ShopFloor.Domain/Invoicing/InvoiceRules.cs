namespace ShopFloor.Domain.Invoicing;

/// <summary>
/// What must be right before a document gets a number. Refusals carry the rule's id in EN 16931 where it has the rule, and a plain name where the rule
/// is the program's own. Arithmetic is not checked here: <see cref="DocumentTotals"/> computes it.
/// </summary>
public static class InvoiceRules
{
    /// <summary>The most lines of one document.</summary>
    public const int MostLines = 2000;

    /// <summary>Checks a draft.</summary>
    /// <param name="draft">The draft.</param>
    /// <param name="date">Intended day of issue.</param>
    /// <returns>Everything that is wrong; empty when it can be issued.</returns>
    public static IReadOnlyList<Refusal> Check(InvoiceDraft draft, DateOnly date) =>
        [
            .. Whole(draft, date),
            .. PartyRules.Check(draft),
            .. LineRules.Check(draft),
            .. Adjustments(draft),
            .. TaxRules.Check(draft),
            .. Payment(draft),
        ];

    private static IEnumerable<Refusal> Whole(InvoiceDraft draft, DateOnly date)
    {
        if (!Codes.IsCurrency(draft.Settings.Currency))
            yield return new(
                "BR-CL-04",
                $"{draft.Settings.Currency} is no currency that invoices can be made in: use the letters of ISO 4217, e.g. EUR.",
                "Currency"
            );
        if (draft.Lines.Count == 0)
            yield return new("BR-16", "There is nothing to invoice: add at least one line.", nameof(draft.Lines));
        if (draft.Lines.Count > MostLines)
            yield return new("too-many-lines", $"A document has at most {MostLines} lines: split it.", nameof(draft.Lines));
        if (draft.Lines.Count > 0 && draft.Lines.All(l => l.Net() == 0m) && draft.Adjustments.All(a => a.Adjustment.Amount == 0m))
            yield return new("nothing-to-invoice", "Every line is free: give a delivery note instead of an invoice.", nameof(draft.Lines));
        if (draft.Kind == DocumentKind.CreditNote && draft.Preceding.Count == 0)
            yield return new("BR-55", "A credit note names the invoice that it takes back.", nameof(draft.Preceding));
        if (draft.Preceding.Any(p => string.IsNullOrWhiteSpace(p.Number)))
            yield return new("BR-55", "An earlier document is named by its number.", nameof(draft.Preceding));
        if (draft.DueDate < date)
            yield return new("due-date", "The last day to pay lies before the day of issue.", nameof(draft.DueDate));
        if (draft.Note is { Length: > 5000 } || draft.Terms is { Length: > 1000 })
            yield return new("text-too-long", "A note has at most 5000 characters, terms at most 1000.", nameof(draft.Note));
        if (Math.Abs(draft.Rounding) > Math.Max(1m, draft.Settings.CashStep))
            yield return new("rounding", "The rounding is larger than a coin can explain.", nameof(draft.Rounding));
        foreach (var amount in Coins(draft))
            yield return new("BR-DEC-16", $"{amount} is no amount in whole cents.", nameof(draft.Paid));
    }

    private static IEnumerable<string> Coins(InvoiceDraft draft)
    {
        if (Rounded(draft.Paid) != draft.Paid)
            yield return "The sum already paid";
        if (Rounded(draft.Rounding) != draft.Rounding)
            yield return "The rounding";
    }

    private static IEnumerable<Refusal> Adjustments(InvoiceDraft draft)
    {
        foreach (var item in draft.Adjustments)
        {
            var (change, name) = (item.Adjustment, item.Adjustment.IsCharge ? "charge" : "discount");
            if (string.IsNullOrWhiteSpace(change.Reason))
                yield return new(
                    change.IsCharge ? "BR-38" : "BR-33",
                    $"Say what the {name} on the whole is for.",
                    nameof(draft.Adjustments)
                );
            if (Rounded(change.Amount) != change.Amount || change.Amount < 0m)
                yield return new(
                    change.IsCharge ? "BR-DEC-05" : "BR-DEC-01",
                    $"A {name} is an amount of at least 0 in whole cents.",
                    nameof(draft.Adjustments)
                );
            if (!change.IsCharge && change.Amount != 0m && draft.Lines.All(l => l.Tax != item.Tax))
                yield return new(
                    "discount-without-lines",
                    "A discount is taken from lines with the same tax; there are none.",
                    nameof(draft.Adjustments)
                );
        }
    }

    private static IEnumerable<Refusal> Payment(InvoiceDraft draft)
    {
        foreach (var means in draft.PaymentMeans)
        {
            if (!Codes.IsPaymentMeans(means.Code))
                yield return new("BR-CL-16", "Choose how the invoice is to be paid.", nameof(draft.PaymentMeans));
            if (means.NeedsAccount && string.IsNullOrWhiteSpace(means.Account))
                yield return new("BR-61", "Enter the account that the buyer shall transfer to.", nameof(draft.PaymentMeans));
        }
        if (draft.PaymentMeans.DistinctBy(m => m.Code, StringComparer.Ordinal).Count() > 1)
            yield return new("UBL-SR-47", "All ways to pay of one invoice are of one kind.", nameof(draft.PaymentMeans));
        if (
            draft.Kind != DocumentKind.Receipt
            && draft.Totals().Due > 0m
            && draft.DueDate is null
            && string.IsNullOrWhiteSpace(draft.Terms)
        )
            yield return new("BR-CO-25", "Say until when or how the invoice is to be paid.", nameof(draft.DueDate));
    }

    internal static decimal Rounded(decimal amount) => Quantities.Money.Round(amount);
}
