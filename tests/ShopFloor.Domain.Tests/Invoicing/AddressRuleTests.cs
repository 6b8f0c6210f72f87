using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Section 33 UStDV: up to 250 EUR with tax an invoice needs no address of who gets it; above, section 14 (4) no. 1 UStG asks for it.</summary>
public sealed class AddressRuleTests
{
    [Theory]
    [InlineData(250, TaxScheme.Vat, "DE", "EUR", false)]
    [InlineData(250.01, TaxScheme.Vat, "DE", "EUR", true)]
    [InlineData(300, TaxScheme.None, "DE", "EUR", true)]
    [InlineData(300, TaxScheme.SalesTax, "DE", "EUR", false)]
    [InlineData(300, TaxScheme.Vat, "FR", "EUR", false)]
    [InlineData(300, TaxScheme.Vat, "DE", "CHF", false)]
    public void Asks_OfASum_IsAsTheLawOfTheCountryHasIt(decimal sum, TaxScheme scheme, string country, string currency, bool expected) =>
        Assert.Equal(expected, AddressRule.Asks(sum, scheme, country, currency));
}
