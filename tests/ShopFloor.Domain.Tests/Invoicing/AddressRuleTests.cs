using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Section 33 UStDV: up to 250 EUR with tax an invoice needs no address of who gets it; above, section 14 (4) no. 1 UStG asks for it.</summary>
public sealed class AddressRuleTests
{
    [Theory]
    [InlineData(25_000, TaxScheme.Vat, "DE", "EUR", false)]
    [InlineData(25_001, TaxScheme.Vat, "DE", "EUR", true)]
    [InlineData(30_000, TaxScheme.None, "DE", "EUR", true)]
    [InlineData(30_000, TaxScheme.SalesTax, "DE", "EUR", false)]
    [InlineData(30_000, TaxScheme.Vat, "FR", "EUR", false)]
    [InlineData(30_000, TaxScheme.Vat, "DE", "CHF", false)]
    public void Asks_OfASum_IsAsTheLawOfTheCountryHasIt(int cents, TaxScheme scheme, string country, string currency, bool expected) =>
        Assert.Equal(expected, AddressRule.Asks(cents / 100m, scheme, country, currency));
}
