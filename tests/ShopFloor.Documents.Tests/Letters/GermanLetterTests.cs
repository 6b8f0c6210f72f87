using System.Text.RegularExpressions;
using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.EInvoice;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Invoicing;
using static ShopFloor.Documents.Tests.Letters.SampleLetters;

namespace ShopFloor.Documents.Tests.Letters;

/// <summary>Letters to a reader of German: every sentence of theirs is German, numbers and days are written as there.</summary>
public sealed partial class GermanLetterTests
{
    private static readonly LetterReader German = LetterReader.Of("de");

    [Theory]
    [InlineData("de", "de")]
    [InlineData("de-AT", "de")]
    [InlineData("en", "en")]
    [InlineData("fr", "en")]
    [InlineData("", "en")]
    [InlineData(null, "en")]
    public void Of_Language_IsThatOneOrEnglish(string? asked, string spoken) => Assert.Equal(spoken, LetterReader.Of(asked).Language);

    [Fact]
    public void Say_OwnersOwnWords_StandAsTheyAre() => Assert.Equal("Ahoi {name}, 100 %", German.Say("Ahoi {name}, 100 %"));

    [Fact]
    public void Write_PricesWithTax_IsAGermanInvoice()
    {
        var words = Poppler.Words(Printed(InvoiceLetter.Of(GrossInvoice(), German)), "-layout");
        foreach (
            var shown in new[]
            {
                "Rechnung 2026-0008",
                "Datum",
                "Zahlbar bis",
                "Menge",
                "Preis",
                "Betrag EUR",
                "4. Mai 2026",
                "108,35",
                "Gesamt mit USt",
                "Die Preise enthalten USt. Enthaltene USt: 19 % auf 91,05 = 17,30.",
                "Bitte überweisen Sie auf",
                "Seite 1 von 1",
            }
        )
            Assert.Contains(shown, words, StringComparison.Ordinal);
        foreach (var english in new[] { "Invoice", "Date", "Pay by", "Price", "Amount", "Total", "Page", "transfer" })
            Assert.DoesNotContain(english, words, StringComparison.Ordinal);
    }

    [Fact]
    public void Write_Order_SpeaksGermanOnEveryLetter()
    {
        var quote = Poppler.Words(Printed(OrderLetters.Quote(Order, German)), "-layout");
        Assert.Contains("Angebot A-17", quote, StringComparison.Ordinal);
        Assert.Contains("Diese Preise gelten, wenn Sie bis zum 18. Mai 2026 bestellen.", quote, StringComparison.Ordinal);
        Assert.Contains("Fertig wäre es am 12. Mai 2026, wenn Sie heute bestellen.", quote, StringComparison.Ordinal);
        var note = Poppler.Words(Printed(OrderLetters.DeliveryNote(Order, German)));
        Assert.Contains("Lieferschein A-17", note, StringComparison.Ordinal);
        Assert.Contains("In gutem Zustand erhalten", note, StringComparison.Ordinal);
    }

    [Fact]
    public void Reminder_ShippedLevel_IsNamedInGerman()
    {
        var reminder = new ReminderDue(new(1, "Reminder", 7, 0m, 8m, 7), 1200, 108.35m, 0.62m, new(2026, 6, 20));
        var words = Poppler.Words(Printed(ReminderLetter.Of(GrossInvoice(), reminder, new(2026, 6, 13), German)), "-layout");
        Assert.Contains("Zahlungserinnerung zu Rechnung 2026-0008", words, StringComparison.Ordinal);
        Assert.Contains("Zinsen 8 % im Jahr, 1.200 Tage", words, StringComparison.Ordinal);
        Assert.Contains("Vielleicht ist es Ihnen entgangen", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Draft_NotIssued_IsMarkedInGerman()
    {
        var letter = InvoiceLetter.OfDraft(GrossInvoice().Content, SampleInvoices.Day, German);
        Assert.Equal("Rechnung, nicht ausgestellt", letter.Title);
        Assert.StartsWith("Entwurf zur Ansicht", letter.Mark, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(TaxCategory.ReverseCharge, "Steuerschuldnerschaft des Leistungsempfängers (reverse charge).")]
    [InlineData(TaxCategory.IntraUnion, "Steuerfreie innergemeinschaftliche Lieferung (Art. 138 der Richtlinie 2006/112/EG).")]
    public void WithoutTax_WhatTheLawAsksFor_IsSaidInGerman(TaxCategory category, string said)
    {
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 0m)) with { Reasons = [new(category, null, null)] };
        Assert.Contains(said, InvoiceLetter.Of(new IssuedInvoice("2026-0001", SampleInvoices.Day, draft, draft.Totals()), German).Closing);
    }

    /// <summary>The words that the program itself puts in for a workshop without tax; what an owner wrote stays.</summary>
    [Theory]
    [InlineData("No VAT is charged: exempt.", "Es wird keine Umsatzsteuer berechnet: steuerbefreit.")]
    [InlineData("Gemäß § 19 UStG steuerfrei", "Gemäß § 19 UStG steuerfrei")]
    public void WithoutTax_ExemptWorkshop_SaysWhyInGerman(string reason, string said)
    {
        var exempt = new TaxKind(TaxCategory.Exempt, 0m);
        var draft = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 0m) with { Tax = exempt }) with
        {
            Reasons = [new(TaxCategory.Exempt, null, reason)],
        };
        Assert.Contains(said, InvoiceLetter.Of(new IssuedInvoice("2026-0001", SampleInvoices.Day, draft, draft.Totals()), German).Closing);
    }

    [Theory]
    [InlineData("CH", "Schweiz", "Switzerland")]
    [InlineData("AT", "Österreich", "Austria")]
    [InlineData("EH", "Westsahara", "Western Sahara")]
    [InlineData("XI", "Nordirland", "Northern Ireland")]
    [InlineData("??", "??", "??")]
    public void Country_OfAnAddress_IsInTheReadersLanguage(string code, string german, string english)
    {
        Assert.Equal((german, english), (German.Country(code), LetterReader.English.Country(code)));
        var buyer = SampleInvoices.Draft(SampleInvoices.Line(1, 1m, 10m, 0m)).Buyer!;
        var abroad = buyer with { Address = buyer.Address with { Country = code } };
        Assert.Equal(german, InvoiceLetter.To(abroad, "ZZ", German)[^1]);
    }

    [Fact]
    public void Country_EveryOneThatAnInvoiceMayName_HasAGermanName()
    {
        var letters = Enumerable.Range('A', 26).Select(c => (char)c).ToList();
        var codes = letters.SelectMany(a => letters.Select(b => $"{a}{b}")).Append("1A").Where(Codes.IsCountry).ToList();
        Assert.InRange(codes.Count, 240, 260);
        Assert.DoesNotContain(codes, c => German.Country(c) == c || LetterReader.English.Country(c) == c);
    }

    /// <summary>Sentences are keys: each one in the code of the letters is there in German, with the same places.</summary>
    [Fact]
    public void Say_EverySentenceInTheCode_IsThereInGerman()
    {
        var said = Directory
            .EnumerateFiles(SourceTree.Folder("src/ShopFloor.Documents/Letters"), "*.cs")
            .SelectMany(f => Sentence().Matches(File.ReadAllText(f)))
            .Select(m => m.Groups["key"].Value)
            .Where(k => k.Length > 1)
            .ToHashSet(StringComparer.Ordinal);
        Assert.InRange(said.Count, 60, 200);
        Assert.Equal([], said.Where(k => German.Say(k) == k && k != "; rounding {0}" && k != "{0} of {1}"));
        Assert.All(said, k => Assert.Equal(Places(k), Places(German.Say(k))));
    }

    private static IEnumerable<string> Places(string text) => Place().Matches(text).Select(m => m.Value).Distinct().Order();

    [GeneratedRegex("""[Ss]ay\(\s*"(?<key>[^"]+)"|=> "(?<key>[A-Z][^"]* \{0\})",""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Sentence();

    [GeneratedRegex(@"\{\d\}", RegexOptions.None, 1000)]
    private static partial Regex Place();
}
