using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.EInvoice;
using ShopFloor.Documents.Tests.Pdf;
using ShopFloor.Domain.Invoicing;
using UglyToad.PdfPig;
using static ShopFloor.Documents.Tests.Letters.SampleLetters;

namespace ShopFloor.Documents.Tests.Letters;

/// <summary>Letters are read back with pdftotext, pdffonts, pdfinfo and PdfPig.</summary>
public sealed class LetterTests
{
    [Fact]
    public void Write_PublishedInvoice_ShowsItsTotals()
    {
        // ubl-tc434-example5.xml of ConnectingEurope/eInvoicing-EN16931: 1500 at 25 %, 2500 at 12 %, 4675.00, paid and due 2337.50.
        var draft = SampleInvoices.Draft(
            SampleInvoices.Line(1, 1000m, 1m, 25m) with
            {
                Adjustments = [new(IsCharge: false, 100m, "Loyal"), new(IsCharge: true, 100m, "Packing")],
            },
            SampleInvoices.Line(2, 100m, 5m, 25m),
            SampleInvoices.Line(3, 500m, 5m, 12m)
        ) with
        {
            Adjustments =
            [
                new(Adjustment.OfPercent(isCharge: false, 1500m, 10m, "Loyal customer"), TaxKind.Standard(25)),
                new(Adjustment.OfPercent(isCharge: true, 1500m, 10m, "Packing"), TaxKind.Standard(25)),
            ],
            Paid = 2337.50m,
        };
        var words = Poppler.Words(Printed(InvoiceLetter.Of(SampleInvoices.Issue(draft, "2026-0009"), LetterReader.English)), "-layout");
        foreach (
            var shown in new[]
            {
                "4,000.00",
                "−150.00",
                "150.00",
                "375.00",
                "300.00",
                "4,675.00",
                "−2,337.50",
                "2,337.50",
                "18 May 2026",
                "Invoice 2026-0009",
            }
        )
            Assert.Contains(shown, words, StringComparison.Ordinal);
    }

    [Fact]
    public void Write_PricesWithTax_SaysWhatTheyContain()
    {
        var words = Poppler.Words(Printed(InvoiceLetter.Of(GrossInvoice(), LetterReader.English)), "-layout");
        Assert.Contains("108.35", words, StringComparison.Ordinal);
        Assert.Contains("Prices include VAT. VAT contained: 19 % on 91.05 = 17.30.", words, StringComparison.Ordinal);
    }

    /// <summary>500 lines: every page has its number, what is carried over is brought forward, and the pages' sums add up to the total.</summary>
    [Theory]
    [InlineData(LetterPaper.A4)]
    [InlineData(LetterPaper.Letter)]
    public void Write_FiveHundredLines_CarriesTheTotalOverEveryPage(LetterPaper paper)
    {
        var letter = Invoice(500);
        using var pdf = PdfDocument.Open(Printed(letter, paper));
        var pages = pdf.GetPages()
            .Select(p => UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor.ContentOrderTextExtractor.GetText(p))
            .ToList();
        Assert.InRange(pages.Count, 15, 60);
        string? brought = null;
        for (var i = 0; i < pages.Count; i++)
        {
            Assert.Contains($"Page {i + 1} of {pages.Count}", pages[i], StringComparison.Ordinal);
            Assert.Equal(brought, After(pages[i], "Brought forward"));
            brought = After(pages[i], "Carried over");
        }
        Assert.Null(brought);
        Assert.Contains(letter.Reader.Amount(letter.Lines.Sum(l => l.Carry)), pages[^1], StringComparison.Ordinal);
        Assert.Contains(letter.Totals[^1].Amount, pages[^1], StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(LetterPaper.A4, "595.")]
    [InlineData(LetterPaper.Letter, "612 x 792")]
    public void Write_Paper_HasItsSize(LetterPaper paper, string size) =>
        Assert.Contains(size, Poppler.Info(Printed(Invoice(1), paper)), StringComparison.Ordinal);

    /// <summary>A screen reader finds a heading, paragraphs and a table with rows and cells, and what is furniture is marked as such.</summary>
    [Theory]
    [InlineData(LetterPaper.A4)]
    [InlineData(LetterPaper.Letter)]
    public void Write_AnyLetter_IsTaggedWithHeadingParagraphsAndTable(LetterPaper paper)
    {
        var pdf = Printed(InvoiceLetter.Of(GrossInvoice(), LetterReader.English), paper);
        Assert.Matches(@"Tagged:\s+yes", Poppler.Info(pdf));
        var structure = Poppler.Info(pdf, "-struct");
        foreach (var part in new[] { "H2", "P (block)", "Table", "TR", "TH", "TD" })
            Assert.Contains(part, structure, StringComparison.Ordinal);
    }

    /// <summary>The letters of the languages of Europe in Latin, Greek and Cyrillic come out as they went in, with every font in the file.</summary>
    [Fact]
    public void Write_LettersOfEurope_AreInTheFileAndReadable()
    {
        const string Letters =
            "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖØÙÚÛÜÝÞß ĀĂĄĆĈĊČĎĐĒĖĘĚĞĢĪĮİıĶŁļĽŃŅŇŐŒŔŘŚŞŠŢŤŪŮŰŲŴŶŸŹŻŽȘȚ ΑΒΓΔΕΖΗΘΩάέήίόύώ АБВГДЕЖЗИЙЫЭЮЯђљњћџѓќїєґ €";
        var letter = OrderLetters.Quote(Order with { To = [Letters, .. Order.To] }, LetterReader.English);
        var pdf = Printed(letter);
        var words = Poppler.Words(pdf);
        Assert.All(Letters.Split(' '), part => Assert.Contains(part, words.ReplaceLineEndings(""), StringComparison.Ordinal));
        Assert.All(
            Poppler.Fonts(pdf).Split('\n').Skip(2).Where(l => l.Trim().Length > 0),
            line => Assert.Matches(@"\syes\s+(yes|no)\s+yes\s", line)
        );
    }

    [Fact]
    public void GiftNote_Order_ShowsNoPriceAndNoNumberOfTheOrder()
    {
        var words = Poppler.Words(Printed(OrderLetters.GiftNote(Order, "Happy birthday!\nYour aunt", LetterReader.English)));
        Assert.Contains("Happy birthday!", words, StringComparison.Ordinal);
        Assert.Contains("Steel lighter case", words, StringComparison.Ordinal);
        foreach (var hidden in new[] { "EUR", "48.50", "9.90", "27.00", "221.30", "66.39", "A-17", "Price", "Amount" })
            Assert.DoesNotContain(hidden, words, StringComparison.Ordinal);
    }

    [Fact]
    public void Quote_Order_ShowsPricesPromiseAndDeposit()
    {
        var words = Poppler.Words(Printed(OrderLetters.Quote(Order, LetterReader.English)), "-layout");
        foreach (var shown in new[] { "48.50", "118.80", "221.30", "66.39", "12 May 2026", "18 May 2026", "Prices include 20 % VAT." })
            Assert.Contains(shown, words, StringComparison.Ordinal);
        Assert.Contains("It would be ready on 12 May 2026 if you order today.", words, StringComparison.Ordinal);
        Assert.DoesNotContain("We expect to have it ready", words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, "VAT 20 % in it", "Total with VAT")]
    [InlineData(false, "Total with VAT", "in it")]
    public void Offer_Taxed_SaysTaxAndValidityAndAsksForNothing(bool contained, string shown, string hidden)
    {
        var offer = Order with { Taxes = [new("VAT", 20m, 44.26m, contained)] };
        var words = Poppler.Words(Printed(OrderLetters.Offer(offer, LetterReader.English)), "-layout").ReplaceLineEndings(" ");
        foreach (var said in new[] { shown, "44.26", "Holds until", "18 May 2026", "held for you only once you order", "no invoice" })
            Assert.Contains(said, words, StringComparison.Ordinal);
        foreach (var never in new[] { hidden, "Invoice", "Due" })
            Assert.DoesNotContain(never, words, StringComparison.Ordinal);
    }

    [Fact]
    public void DeliveryNote_Order_IsSignedAndShowsNoPrices()
    {
        var words = Poppler.Words(Printed(OrderLetters.DeliveryNote(Order, LetterReader.English)));
        Assert.Contains("Received in good order", words, StringComparison.Ordinal);
        Assert.DoesNotContain("48.50", words, StringComparison.Ordinal);
    }

    [Fact]
    public void Reminder_SecondLevel_AsksForAllOfIt()
    {
        var invoice = GrossInvoice();
        var reminder = new ReminderDue(new(2, "Second reminder", 21, 5m, 8m, 7), 26, 108.35m, 0.62m, new(2026, 6, 20));
        var words = Poppler.Words(Printed(ReminderLetter.Of(invoice, reminder, new(2026, 6, 13), LetterReader.English)), "-layout");
        foreach (
            var shown in new[]
            {
                "Second reminder for invoice 2026-0008",
                "108.35",
                "5.00",
                "0.62",
                "113.97",
                "20 June 2026",
                "IE00TEST0000",
            }
        )
            Assert.Contains(shown, words, StringComparison.Ordinal);
    }

    [Fact]
    public void CreditNote_PartOfAnInvoice_NamesItAndTheReason()
    {
        var note = CreditNotes
            .Part(GrossInvoice(), [], new Dictionary<string, decimal> { ["1"] = 1m }, "The handle was chipped.", "Will be paid back.")
            .Value;
        var words = Poppler.Words(Printed(InvoiceLetter.Of(SampleInvoices.Issue(note, "C2026-0001"), LetterReader.English)), "-layout");
        foreach (
            var shown in new[]
            {
                "Credit note C2026-0001",
                "2026-0008 of 4 May",
                "We take back the following: The handle was chipped.",
                "19.95",
                "Will be paid back.",
            }
        )
            Assert.Contains(shown, words, StringComparison.Ordinal);
    }

    [Fact]
    public void Write_VeryLongNames_StayOnThePageAndLoseNothing()
    {
        var longName = string.Join(' ', Enumerable.Repeat("Donaudampfschifffahrtsgesellschaft", 12));
        var letter = OrderLetters.Confirmation(
            Order with
            {
                To = [longName],
                Lines = [new(longName, longName, 1m, 1m)],
            },
            LetterReader.English
        );
        using var pdf = PdfDocument.Open(Printed(letter));
        var page = pdf.GetPage(1);
        Assert.All(page.Letters, l => Assert.InRange(l.BoundingBox.Right, 0, page.Width - 20));
        Assert.Equal(36, pdf.GetPages().Sum(p => p.GetWords().Count(w => w.Text.StartsWith("Donaudampf", StringComparison.Ordinal))));
    }

    private static string? After(string text, string words)
    {
        var at = text.IndexOf(words, StringComparison.Ordinal);
        return at < 0 ? null : text[(at + words.Length)..].Split([' ', '\n', '\r'], StringSplitOptions.RemoveEmptyEntries)[0];
    }
}
