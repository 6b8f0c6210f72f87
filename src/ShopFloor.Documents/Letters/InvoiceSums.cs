using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>The sums of an issued document as the reader sees them. They come from the document; only their order and words are made here.</summary>
internal static class InvoiceSums
{
    public static IReadOnlyList<LetterTotal> Of(IssuedInvoice invoice, LetterReader reader)
    {
        var rows = invoice.Content.Settings.PricesIncludeTax ? WithTax(invoice, reader) : WithoutTax(invoice, reader);
        return [.. rows.Concat(ToPay(invoice, reader)).Select(r => new LetterTotal(r.Label, reader.Amount(r.Amount), r.Strong))];
    }

    /// <summary>The sentence on the tax contained in shown prices.</summary>
    public static string Contained(IssuedInvoice invoice, LetterReader reader)
    {
        var label = reader.Say(invoice.Content.Settings.Label);
        var groups = invoice
            .Totals.Groups.Where(g => g.Kind.IsTaxed)
            .Select(g => reader.Say("{0} on {1} = {2}", reader.Percent(g.Kind.Percent), reader.Amount(g.Taxable), reader.Amount(g.Tax)));
        var rounding = invoice.Totals.Rounding == 0m ? "" : reader.Say("; rounding {0}", reader.Amount(invoice.Totals.Rounding));
        return reader.Say("Prices include {0}. {0} contained: {1}{2}.", label, string.Join("; ", groups), rounding);
    }

    private static IEnumerable<(string Label, decimal Amount, bool Strong)> WithTax(IssuedInvoice invoice, LetterReader reader)
    {
        var totals = invoice.Totals;
        var shown = invoice.Content.Lines.Sum(l => InvoiceLetter.Amount(l, gross: true));
        var changes = Changes(invoice, WithTax, reader);
        var rounding = totals.Payable - shown - changes.Sum(c => c.Amount);
        if (shown != totals.Payable)
            yield return (reader.Say("Sum of the lines"), shown, false);
        foreach (var change in changes)
            yield return (change.Label, change.Amount, false);
        if (rounding != 0m)
            yield return (reader.Say("Rounding"), rounding, false);
        yield return (Total(invoice.Content, reader), totals.Payable, totals.Paid == 0m);
    }

    private static IEnumerable<(string Label, decimal Amount, bool Strong)> WithoutTax(IssuedInvoice invoice, LetterReader reader)
    {
        var (totals, content) = (invoice.Totals, invoice.Content);
        yield return (reader.Say("Sum of the lines"), totals.Lines, false);
        foreach (var change in Changes(invoice, a => a.Adjustment.Signed, reader))
            yield return (change.Label, change.Amount, false);
        var taxed = content.Settings.Scheme != TaxScheme.None;
        if (taxed && content.Adjustments.Count > 0)
            yield return (reader.Say("Without {0}", reader.Say(content.Settings.Label)), totals.WithoutTax, false);
        foreach (var group in totals.Groups.Where(g => taxed || g.Tax != 0m))
            yield return (
                reader.Say(
                    "{0} {1} on {2}",
                    reader.Say(content.Settings.Label),
                    reader.Percent(group.Kind.Percent),
                    reader.Amount(group.Taxable)
                ),
                group.Tax,
                false
            );
        yield return (Total(content, reader), totals.WithTax, totals is { Paid: 0m, Rounding: 0m });
        if (totals.Rounding != 0m)
            yield return (reader.Say("Rounding"), totals.Rounding, false);
    }

    private static string Total(InvoiceDraft content, LetterReader reader) =>
        content.Settings.Scheme == TaxScheme.None ? reader.Say("Total") : reader.Say("Total with {0}", reader.Say(content.Settings.Label));

    /// <summary>Discounts and charges on the whole. One that is cut by rates of tax is one row: the rows of the tax say how it falls on them.</summary>
    private static List<(string Label, decimal Amount)> Changes(
        IssuedInvoice invoice,
        Func<DocumentAdjustment, decimal> amount,
        LetterReader reader
    ) =>
        [
            .. invoice
                .Content.Adjustments.GroupBy(a => (a.Adjustment.IsCharge, a.Adjustment.Reason, a.Adjustment.Percent))
                .Select(g => (Label: Reason(g.First().Adjustment, reader), Amount: g.Sum(amount)))
                .Where(r => r.Amount != 0m),
        ];

    private static decimal WithTax(DocumentAdjustment change)
    {
        var amount = change.Shown ?? change.Adjustment.Amount + change.Tax.TaxOn(change.Adjustment.Amount);
        return change.Adjustment.IsCharge ? amount : -amount;
    }

    private static string Reason(Adjustment change, LetterReader reader) =>
        change.Percent is { } percent && percent != 0m
            ? $"{reader.Say(change.Reason)}, {reader.Percent(percent)}"
            : reader.Say(change.Reason);

    private static IEnumerable<(string Label, decimal Amount, bool Strong)> ToPay(IssuedInvoice invoice, LetterReader reader)
    {
        var (totals, content) = (invoice.Totals, invoice.Content);
        if (totals.Paid != 0m)
            yield return (reader.Say("Already paid"), -totals.Paid, false);
        if (totals.Paid != 0m || (totals.Rounding != 0m && !content.Settings.PricesIncludeTax))
            yield return (
                reader.Say(
                    content.Kind == DocumentKind.CreditNote ? "To your credit"
                    : totals.Due < 0m ? "To pay back"
                    : "To pay"
                ),
                totals.Due,
                true
            );
    }
}
