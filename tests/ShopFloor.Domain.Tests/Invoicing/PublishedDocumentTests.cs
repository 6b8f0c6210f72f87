using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>The arithmetic that bills the shop, on documents that others have published. No tolerance anywhere.</summary>
public sealed class PublishedDocumentTests
{
    public static TheoryData<string> Files => [.. PublishedDocuments.All.Select(d => d.File)];

    [Fact]
    public void All_FileOfNumbers_HasFiftyDocumentsAnd121Lines()
    {
        Assert.Equal(50, PublishedDocuments.All.Count);
        Assert.Equal(121, PublishedDocuments.All.Sum(d => d.Lines.Count));
    }

    /// <summary>BR-CO-10 to BR-CO-17 and the rules -08, -09 of the categories.</summary>
    [Theory]
    [MemberData(nameof(Files))]
    public void Of_PublishedDocument_GivesEveryTotal(string file)
    {
        var document = PublishedDocuments.Named(file);
        var (expected, computed) = (document.Expected, document.Computed);
        Assert.Equal(document.Nets, document.Lines.Select(l => l.Net()));
        Assert.Equal(expected.Lines, computed.Lines);
        Assert.Equal(expected.Allowances ?? 0m, computed.Allowances ?? 0m);
        Assert.Equal(expected.Charges ?? 0m, computed.Charges ?? 0m);
        Assert.Equal(expected.WithoutTax, computed.WithoutTax);
        Assert.Equal(expected.Tax, computed.Tax);
        Assert.Equal(expected.WithTax, computed.WithTax);
        Assert.Equal(expected.Due, computed.Due);
        Assert.Equal(Sorted(expected.Groups), Sorted(computed.Groups));
    }

    [Theory]
    [MemberData(nameof(Files))]
    public void OfPercent_PublishedAllowancesAndCharges_GivesTheirAmounts(string file)
    {
        var document = PublishedDocuments.Named(file);
        var changes = document.Lines.SelectMany(l => l.Adjustments).Concat(document.Adjustments.Select(a => a.Adjustment));
        Assert.All(
            changes.Where(c => c is { Base: not null, Percent: not null }),
            c => Assert.Equal(c.Amount, Adjustment.OfPercent(c.IsCharge, c.Base!.Value, c.Percent!.Value, "Reason").Amount)
        );
    }

    /// <summary>Pairs stated in test/Invoice-unit-UBL/BR-CO-17.xml and BR-S-09.xml of ConnectingEurope/eInvoicing-EN16931.</summary>
    [Theory]
    [InlineData("2141.05", "14", "299.75")]
    [InlineData("2141.19", "2.1", "44.96")]
    [InlineData("-2141.19", "5.5", "-117.77")]
    [InlineData("6491.34", "25", "1622.84")]
    [InlineData("-6491.34", "25", "-1622.84")]
    [InlineData("12342.61", "4.8", "592.45")]
    [InlineData("979.15", "4.8", "47.00")]
    [InlineData("-6170.72", "20", "-1234.14")]
    public void TaxOn_PublishedPair_GivesItsTax(string taxable, string percent, string tax) =>
        Assert.Equal(Number(tax), TaxKind.Standard(Number(percent)).TaxOn(Number(taxable)));

    /// <summary>Prices of sample-discount-price.xml, Elnat.xml, Elhandel.xml, ubl-tc434-example8.xml, Resor_Taxi.xml (EN 16931 test files).</summary>
    [Theory]
    [InlineData("100", "0.1212", "1", "12.12")]
    [InlineData("90", "1585", "365", "390.82")]
    [InlineData("1701", "0.275", "1", "467.78")]
    [InlineData("1701", "0.41375", "1", "703.79")]
    [InlineData("1701", "0.3492", "1", "593.99")]
    [InlineData("16000", "0.00880", "1", "140.80")]
    [InlineData("16000", "0.00101", "1", "16.16")]
    [InlineData("132", "15.24", "12", "167.64")]
    [InlineData("4.2", "23.14", "1", "97.19")]
    [InlineData("29.5", "13.52", "1", "398.84")]
    [InlineData("2000", "10", "2", "10000")]
    [InlineData("-800", "4", "5", "-640")]
    public void Net_PublishedLine_IsRoundedOnceAndDividedLast(string quantity, string price, string per, string net) =>
        Assert.Equal(
            Number(net),
            new InvoiceLine("1", "Item", Number(quantity), "C62", Number(price), TaxKind.Standard(25)) { PriceQuantity = Number(per) }.Net()
        );

    /// <summary>ubl-tc434-example5.xml: a deposit, two rates, allowance and charge on the whole.</summary>
    [Fact]
    public void Of_DepositAndTwoRates_Gives2337()
    {
        var totals = PublishedDocuments.Named("ubl-tc434-example5.xml").Computed;
        Assert.Equal(4675.00m, totals.WithTax);
        Assert.Equal(2337.50m, totals.Due);
        Assert.Equal([375.00m, 300.00m], totals.Groups.Select(g => g.Tax));
    }

    /// <summary>The official pair: a deposit outside the tax, and the final invoice that takes it off (Forskott).</summary>
    [Fact]
    public void Of_DepositWithoutTaxThenFinal_ChargesTaxOnceAndTakesTheDepositOff()
    {
        var deposit = PublishedDocuments.Named("BIS_Billing_30-Forskott_(ej moms).xml").Computed;
        var final = PublishedDocuments.Named("BIS_Billing_30-Forskott_slutreglering.xml").Computed;
        Assert.Equal(400_000m, deposit.Due);
        Assert.Equal((380_000m, 95_000m, 475_000m), (final.WithoutTax, final.Tax, final.WithTax));
        Assert.Equal(deposit.Due, final.Paid);
        Assert.Equal(75_000m, final.Due);
    }

    /// <summary>Kreditering: the credit note repeats the invoice, the negative invoice mirrors it (half away from zero).</summary>
    [Fact]
    public void Of_CreditNoteAndNegativeInvoice_MirrorTheInvoice()
    {
        var invoice = PublishedDocuments.Named("BIS_Billing_30-Kreditering_(urspr_faktura).xml").Computed;
        var note = PublishedDocuments.Named("BIS_Billing_30-Kreditering_med_kreditnota.xml").Computed;
        var negative = PublishedDocuments.Named("BIS_Billing_30-Kreditering_med_negativ_faktura.xml").Computed;
        Assert.Equal((10_835m, 10_000m), (invoice.WithTax, invoice.Due));
        Assert.Equal((invoice.WithTax, invoice.Due), (note.WithTax, note.Due));
        Assert.Equal((-invoice.WithTax, -invoice.Due), (negative.WithTax, negative.Due));
    }

    /// <summary>Peppol guide to rounding: 999.81 paid as 1000 is +0.19; Elhandel.xml: 792.49 paid as 792 is −0.49.</summary>
    [Theory]
    [InlineData("999.81", "1", "0.19")]
    [InlineData("792.49", "1", "-0.49")]
    [InlineData("1952.99", "1", "0.01")]
    [InlineData("12.37", "0.05", "-0.02")]
    [InlineData("12.38", "0.05", "0.02")]
    [InlineData("12.38", "0", "0")]
    public void Difference_CashStep_IsAddedToTheAmountDue(string amount, string step, string difference) =>
        Assert.Equal(Number(difference), CashRounding.Difference(Number(amount), Number(step)));

    private static IEnumerable<TaxGroup> Sorted(IEnumerable<TaxGroup> groups) =>
        groups.OrderBy(g => g.Kind.Category).ThenBy(g => g.Kind.Percent);

    private static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);
}
