namespace ShopFloor.Domain.Invoicing;

/// <summary>Rules of EN 16931 on the categories: rates, reasons, and which numbers the parties must have.</summary>
internal static class TaxRules
{
    public static IEnumerable<Refusal> Check(InvoiceDraft draft)
    {
        var kinds = draft.Lines.Select(l => l.Tax).Concat(draft.Adjustments.Select(a => a.Tax)).Distinct().ToList();
        var rates = kinds.SelectMany(Rate);
        if (draft.Settings.Scheme != TaxScheme.Vat)
            return rates;
        var categories = kinds.Select(k => k.Category).Distinct().Order().ToList();
        return
        [
            .. rates,
            .. categories.SelectMany(c => Reason(draft, c)),
            .. categories.SelectMany(c => Numbers(draft, c)),
            .. Together(draft, categories),
        ];
    }

    private static IEnumerable<Refusal> Rate(TaxKind kind)
    {
        if (kind.Category == TaxCategory.SplitPayment)
            yield return new("BR-B-01", "Split payment is not offered: choose another tax category.", "Tax");
        else if (kind.IsTaxed && kind.Percent is <= 0m or > 100m)
            yield return new(
                "BR-S-05",
                "A taxed rate is above 0 and at most 100 %. For 0 % choose zero rated, exempt or another category.",
                "Tax"
            );
        else if (!kind.IsTaxed && kind.Percent != 0m)
            yield return new($"BR-{kind.Category.RulePart()}-05", "In this tax category the rate is 0.", "Tax");
    }

    private static IEnumerable<Refusal> Reason(InvoiceDraft draft, TaxCategory category)
    {
        var reasons = draft.Reasons.Where(r => r.Category == category).ToList();
        var given = reasons is [var only] && !(string.IsNullOrWhiteSpace(only.Code) && string.IsNullOrWhiteSpace(only.Text));
        if (category.NeedsReason() && !given)
            yield return new($"BR-{category.RulePart()}-10", "Say, once, why no tax is charged.", nameof(draft.Reasons));
        if (!category.NeedsReason() && reasons.Count > 0)
            yield return new($"BR-{category.RulePart()}-10", "In this tax category no reason is given.", nameof(draft.Reasons));
    }

    private static IEnumerable<Refusal> Numbers(InvoiceDraft draft, TaxCategory category)
    {
        if (draft.Kind == DocumentKind.Receipt)
            yield break;
        var id = $"BR-{category.RulePart()}-02";
        var (seller, buyer) = (draft.Seller, draft.Buyer);
        var sellerHasVat = !string.IsNullOrWhiteSpace(seller.VatId);
        var buyerHasVat = !string.IsNullOrWhiteSpace(buyer?.VatId);
        if (category is TaxCategory.IntraUnion or TaxCategory.Export && !sellerHasVat)
            yield return new(id, "This tax category needs the workshop's VAT number: enter it on the page Workshop.", nameof(draft.Seller));
        else if (category != TaxCategory.OutsideScope && !sellerHasVat && string.IsNullOrWhiteSpace(seller.TaxNumber))
            yield return new(id, "Enter the workshop's VAT number or tax number on the page Workshop.", nameof(draft.Seller));
        if (category == TaxCategory.ReverseCharge && !buyerHasVat && string.IsNullOrWhiteSpace(buyer?.RegisterId))
            yield return new(id, "Reverse charge needs the customer's VAT number or register number.", nameof(draft.Buyer));
        if (category == TaxCategory.IntraUnion && !buyerHasVat)
            yield return new(id, "Goods to another state of the Union need the customer's VAT number.", nameof(draft.Buyer));
        if (category == TaxCategory.OutsideScope && (sellerHasVat || buyerHasVat))
            yield return new(id, "Outside the tax no VAT number may stand on the document: leave both off.", nameof(draft.Seller));
    }

    private static IEnumerable<Refusal> Together(InvoiceDraft draft, List<TaxCategory> categories)
    {
        if (categories.Contains(TaxCategory.OutsideScope) && categories.Count > 1)
            yield return new(
                "BR-O-11",
                "What is outside the tax cannot stand with taxed lines on one document: make two.",
                nameof(draft.Lines)
            );
        if (!categories.Contains(TaxCategory.IntraUnion))
            yield break;
        if (draft.Delivery?.Date is null)
            yield return new("BR-IC-11", "Goods to another state of the Union need the day of delivery.", nameof(draft.Delivery));
        if (draft.Delivery?.To is null)
            yield return new(
                "BR-IC-12",
                "Goods to another state of the Union need the address of delivery with its country.",
                nameof(draft.Delivery)
            );
    }
}
