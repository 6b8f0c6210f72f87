using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>The sums of an issued document as the reader sees them. They come from the document; only their order and words are made here.</summary>
internal static class InvoiceSums
{
    public static IReadOnlyList<LetterTotal> Of(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var rows = invoice.Content.Settings.PricesIncludeTax ? WithTax(invoice, numbers) : WithoutTax(invoice, numbers);
        return [.. rows.Concat(ToPay(invoice)).Select(r => new LetterTotal(r.Label, numbers.Amount(r.Amount), r.Strong))];
    }

    /// <summary>The sentence on the tax contained in shown prices.</summary>
    public static string Contained(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var label = invoice.Content.Settings.Label;
        var groups = invoice
            .Totals.Groups.Where(g => g.Kind.IsTaxed)
            .Select(g => $"{numbers.Percent(g.Kind.Percent)} on {numbers.Amount(g.Taxable)} = {numbers.Amount(g.Tax)}");
        var rounding = invoice.Totals.Rounding == 0m ? "" : $"; rounding {numbers.Amount(invoice.Totals.Rounding)}";
        return $"Prices include {label}. {label} contained: {string.Join("; ", groups)}{rounding}.";
    }

    private static IEnumerable<(string Label, decimal Amount, bool Strong)> WithTax(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var (totals, label) = (invoice.Totals, invoice.Content.Settings.Label);
        var shown = invoice.Content.Lines.Sum(l => InvoiceLetter.Amount(l, gross: true));
        var changes = Changes(invoice, WithTax, numbers);
        var rounding = totals.Payable - shown - changes.Sum(c => c.Amount);
        if (shown != totals.Payable)
            yield return ("Sum of the lines", shown, false);
        foreach (var change in changes)
            yield return (change.Label, change.Amount, false);
        if (rounding != 0m)
            yield return ("Rounding", rounding, false);
        yield return ($"Total with {label}", totals.Payable, totals.Paid == 0m);
    }

    private static IEnumerable<(string Label, decimal Amount, bool Strong)> WithoutTax(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var (totals, content) = (invoice.Totals, invoice.Content);
        yield return ("Sum of the lines", totals.Lines, false);
        foreach (var change in Changes(invoice, a => a.Adjustment.Signed, numbers))
            yield return (change.Label, change.Amount, false);
        if (content.Adjustments.Count > 0)
            yield return ($"Without {content.Settings.Label}", totals.WithoutTax, false);
        foreach (var group in totals.Groups)
            yield return (
                $"{content.Settings.Label} {numbers.Percent(group.Kind.Percent)} on {numbers.Amount(group.Taxable)}",
                group.Tax,
                false
            );
        yield return ($"Total with {content.Settings.Label}", totals.WithTax, totals is { Paid: 0m, Rounding: 0m });
        if (totals.Rounding != 0m)
            yield return ("Rounding", totals.Rounding, false);
    }

    /// <summary>Discounts and charges on the whole. One that is cut by rates of tax is one row: the rows of the tax say how it falls on them.</summary>
    private static List<(string Label, decimal Amount)> Changes(
        IssuedInvoice invoice,
        Func<DocumentAdjustment, decimal> amount,
        LetterNumbers numbers
    ) =>
        [
            .. invoice
                .Content.Adjustments.GroupBy(a => (a.Adjustment.IsCharge, a.Adjustment.Reason, a.Adjustment.Percent))
                .Select(g => (Label: Reason(g.First().Adjustment, numbers), Amount: g.Sum(amount)))
                .Where(r => r.Amount != 0m),
        ];

    private static decimal WithTax(DocumentAdjustment change)
    {
        var amount = change.Shown ?? change.Adjustment.Amount + change.Tax.TaxOn(change.Adjustment.Amount);
        return change.Adjustment.IsCharge ? amount : -amount;
    }

    private static string Reason(Adjustment change, LetterNumbers numbers) =>
        change.Percent is { } percent && percent != 0m ? $"{change.Reason}, {numbers.Percent(percent)}" : change.Reason;

    private static IEnumerable<(string Label, decimal Amount, bool Strong)> ToPay(IssuedInvoice invoice)
    {
        var (totals, content) = (invoice.Totals, invoice.Content);
        if (totals.Paid != 0m)
            yield return ("Paid on account", -totals.Paid, false);
        if (totals.Paid != 0m || (totals.Rounding != 0m && !content.Settings.PricesIncludeTax))
            yield return (
                content.Kind == DocumentKind.CreditNote ? "To your credit"
                : totals.Due < 0m ? "To pay back"
                : "To pay",
                totals.Due,
                true
            );
    }
}
