namespace ShopFloor.Domain.Invoicing;

/// <summary>
/// From which sum on an invoice needs name and full address of who gets it. Germany: section 14 (4) no. 1 UStG asks for both, section 33 UStDV lets
/// an invoice of up to 250 EUR with tax go without. What other countries ask for is not known here.
/// </summary>
public static class AddressRule
{
    /// <summary>The largest sum with tax for which none is needed; null: nothing is known to be needed.</summary>
    /// <param name="scheme">The tax system: a sum of another tax than VAT is none that this law speaks of.</param>
    /// <param name="country">The workshop's country.</param>
    /// <param name="currency">Of the invoice.</param>
    public static decimal? FreeUpTo(TaxScheme scheme, string country, string currency) =>
        scheme is TaxScheme.Vat or TaxScheme.None && country == "DE" && currency == "EUR" ? 250m : null;

    /// <summary>Whether an invoice of a sum needs the address; an exempt workshop's too.</summary>
    public static bool Asks(decimal withTax, TaxScheme scheme, string country, string currency) =>
        FreeUpTo(scheme, country, currency) is { } most && withTax > most;
}
