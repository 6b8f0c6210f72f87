using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.EInvoice;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Tests.Letters;

/// <summary>The sentences that stand on papers about money by themselves.</summary>
public sealed class InvoiceWordsTests
{
    /// <summary>Directive 2006/112/EC, Art. 226 no. 11 and 11a: the mention stands there whatever the owner entered as reason.</summary>
    [Theory]
    [InlineData(
        TaxCategory.ReverseCharge,
        "VATEX-EU-AE",
        null,
        "Reverse charge, the buyer owes the VAT (Steuerschuldnerschaft des Leistungsempfängers)."
    )]
    [InlineData(TaxCategory.ReverseCharge, null, "Firm abroad", "(Steuerschuldnerschaft des Leistungsempfängers): Firm abroad")]
    [InlineData(TaxCategory.ReverseCharge, null, "Reverse charge, § 13b UStG", "Reverse charge, § 13b UStG")]
    [InlineData(TaxCategory.IntraUnion, "VATEX-EU-IC", null, "Intra-Community supply, exempt by Art. 138 of Directive 2006/112/EC")]
    [InlineData(TaxCategory.Exempt, null, "Small business, § 19 UStG", "Exempt from VAT: Small business, § 19 UStG")]
    [InlineData(TaxCategory.Exempt, null, "No VAT is charged: exempt.", "No VAT is charged: exempt.")]
    [InlineData(TaxCategory.Exempt, "VATEX-EU-132", null, "Exempt from VAT (VATEX-EU-132).")]
    [InlineData(TaxCategory.Export, "VATEX-EU-G", null, "No VAT is charged (VATEX-EU-G).")]
    public void Of_WithoutTax_SaysWhyInTheWordsOfTheLaw(TaxCategory category, string? code, string? text, string said)
    {
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 0m) with { Tax = new TaxKind(category, 0m) }) with
        {
            Reasons = [new(category, code, text)],
        };
        Assert.Contains(
            Letter(draft).Closing,
            c => c.EndsWith(said, StringComparison.Ordinal) || c.StartsWith(said, StringComparison.Ordinal)
        );
    }

    [Theory]
    [InlineData("Chipped corner", "We take back the following: Chipped corner.")]
    [InlineData("Chipped corner.", "We take back the following: Chipped corner.")]
    [InlineData("What a pity!", "We take back the following: What a pity!")]
    public void Of_CreditNote_LeadsIntoItsReason(string reason, string opening)
    {
        var invoice = SampleInvoices.Issue(SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 20m)), "2026-0001");
        Assert.Equal(opening, Letter(CreditNotes.Full(invoice, reason, "Will be paid back.")).Opening);
    }

    [Fact]
    public void Of_PaidInAdvance_AsksForNothing()
    {
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 20m)) with { Paid = 12m };
        var letter = Letter(draft);
        Assert.DoesNotContain(letter.Facts, f => f.Name == "Pay by");
        Assert.DoesNotContain(letter.Closing, c => c.Contains("transfer", StringComparison.Ordinal));
        // Words of its own, such as when it was paid and how, stand in its place.
        Assert.DoesNotContain("Nothing is left to pay.", letter.Closing);
        Assert.Contains("Nothing is left to pay.", Letter(draft with { Terms = null }).Closing);
        Assert.Contains(Letter(draft with { Paid = 11m }).Facts, f => f.Name == "Pay by");
    }

    [Fact]
    public void Of_ToBeTransferred_WritesTheIbanInGroupsOfFour()
    {
        // The example of the IBAN registry for Ireland.
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 20m)) with
        {
            PaymentMeans = [new(PaymentMeansCodes.SepaTransfer, "IE29AIBK93115212345678", "Lindgate")],
        };
        Assert.Contains("Please transfer to Lindgate, IE29 AIBK 9311 5212 3456 78, reference 2026-0001.", Letter(draft).Closing);
    }

    /// <summary>Where there are no IBANs the account stands in the shop's own words, on the paper alone.</summary>
    [Fact]
    public void Of_AccountInOtherWords_StandsOnThePaperAndInNoEInvoice()
    {
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 20m)) with
        {
            PaymentMeans = [new(PaymentMeansCodes.Transfer, AccountName: "Lindgate", InWords: "Harbour Bank, branch 06-000, 1234 5678")],
        };
        Assert.Contains("Please transfer to Lindgate, Harbour Bank, branch 06-000, 1234 5678, reference 2026-0001.", Letter(draft).Closing);
        var xml = System.Text.Encoding.UTF8.GetString(
            ShopFloor.Documents.EInvoice.UblInvoice.Write(SampleInvoices.Issue(draft, "2026-0001")).Value
        );
        Assert.DoesNotContain("PaymentMeans", xml, StringComparison.Ordinal);
    }

    /// <summary>The shipped words carry the owner's name of the tax, and are German all the same.</summary>
    [Fact]
    public void Of_ExemptFromAnotherTax_IsGermanForAReaderOfGerman()
    {
        var line = SampleInvoices.Line(1, 1m, 10m, 0m) with { Tax = new TaxKind(TaxCategory.Exempt, 0m) };
        var draft = SampleInvoices.Draft(line);
        draft = draft with
        {
            Reasons = [new(TaxCategory.Exempt, null, "Exempt from GST.")],
            Settings = draft.Settings with { Scheme = TaxScheme.Gst, Label = "GST" },
        };
        var issued = new IssuedInvoice("2026-0001", SampleInvoices.Day, draft, draft.Totals());
        Assert.Contains("Von der GST befreit.", InvoiceLetter.Of(issued, LetterReader.Of("de")).Closing);
        Assert.Contains("Exempt from GST.", Letter(draft).Closing);
    }

    /// <summary>A deposit that was taxed before the workshop charged none: the rows still add up to the total.</summary>
    [Fact]
    public void Of_NoTaxAnyMore_ShowsTheTaxThatAnEarlierPaperHad()
    {
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 19m));
        var issued = new IssuedInvoice(
            "2026-0001",
            SampleInvoices.Day,
            draft with
            {
                Settings = draft.Settings with { Scheme = TaxScheme.None },
            },
            draft.Totals()
        );
        Assert.Contains(InvoiceLetter.Of(issued, LetterReader.English).Totals, s => s.Label.Contains("19", StringComparison.Ordinal));
    }

    private static Letter Letter(InvoiceDraft draft) =>
        InvoiceLetter.Of(new IssuedInvoice("2026-0001", SampleInvoices.Day, draft, draft.Totals()), LetterReader.English);
}
