namespace ShopFloor.Domain.Invoicing;

/// <summary>Rules on seller and buyer that hold whatever the tax.</summary>
internal static class PartyRules
{
    public static IEnumerable<Refusal> Check(InvoiceDraft draft) => [.. Seller(draft), .. Buyer(draft)];

    private static IEnumerable<Refusal> Seller(InvoiceDraft draft)
    {
        var seller = draft.Seller;
        if (string.IsNullOrWhiteSpace(seller.Name))
            yield return new("BR-06", "Enter the workshop's legal name in the settings.", nameof(draft.Seller));
        if (!Codes.IsCountry(seller.Address.Country))
            yield return new("BR-09", "Enter the workshop's country in the settings.", nameof(draft.Seller));
        if (draft.Settings.Scheme != TaxScheme.Vat)
            yield break;
        if (
            draft.Kind != DocumentKind.Receipt
            && string.IsNullOrWhiteSpace(seller.VatId)
            && string.IsNullOrWhiteSpace(seller.RegisterId)
            && string.IsNullOrWhiteSpace(seller.Id)
        )
            yield return new(
                "BR-CO-26",
                "An invoice names the workshop by a number: enter its VAT number, tax number or register number on the page Workshop.",
                nameof(draft.Seller)
            );
        if (BadVatId(seller))
            yield return new("BR-CO-09", "The workshop's VAT number begins with its country's two letters.", nameof(draft.Seller));
    }

    private static IEnumerable<Refusal> Buyer(InvoiceDraft draft)
    {
        if (draft.Buyer is not { } buyer)
        {
            if (draft.Kind != DocumentKind.Receipt)
                yield return new("BR-07", "An invoice names the buyer. Without a name give a receipt.", nameof(draft.Buyer));
            yield break;
        }
        if (string.IsNullOrWhiteSpace(buyer.Name))
            yield return new("BR-07", "Enter the customer's name. Without a name give a receipt.", nameof(draft.Buyer));
        if (!Codes.IsCountry(buyer.Address.Country))
            yield return new("BR-11", "Enter the customer's country.", nameof(draft.Buyer));
        if (draft.Settings.Scheme == TaxScheme.Vat && BadVatId(buyer))
            yield return new("BR-CO-09", "The customer's VAT number begins with its country's two letters.", nameof(draft.Buyer));
        if (draft.Delivery?.To is { } to && !Codes.IsCountry(to.Country))
            yield return new("BR-57", "Enter the country of the address of delivery.", nameof(draft.Delivery));
    }

    private static bool BadVatId(Party party) => !string.IsNullOrWhiteSpace(party.VatId) && !Codes.HasCountryLetters(party.VatId);
}
