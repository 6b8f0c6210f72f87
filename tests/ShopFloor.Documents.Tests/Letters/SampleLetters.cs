using ShopFloor.Documents.Letters;
using ShopFloor.Documents.Tests.EInvoice;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Tests.Letters;

/// <summary>Letters of an invented workshop.</summary>
internal static class SampleLetters
{
    public static Letterhead Head { get; } =
        new(
            "Lindgate Coating & Print",
            ["Mill Lane 4, Yard B", "1234 Lindgate, Ireland"],
            ["+353 1 000 000", "office@lindgate.example"],
            ["VAT IE1234567X · Register R-77", "Account IE00 TEST 0000, TESTIE00"]
        );

    public static OrderPaper Order { get; } =
        new(
            "A-17",
            new DateOnly(2026, 5, 4),
            ["Žofie Łukasiewicz-Ångström", "Ørsted Quay 9", "4321 Høfn"],
            [
                new("Roof slate 300 × 200 mm", "White ground · own piece · picture “harbour at dawn”", 1m, 48.50m),
                new("Aluminium name plate 120 × 40 mm", "Show-through · blank", 12m, 9.90m),
                new("Steel lighter case", "Velvet matt, two coats · own piece", 2m, 27m),
            ],
            "EUR"
        )
        {
            Promised = new DateOnly(2026, 5, 12),
            ValidUntil = new DateOnly(2026, 5, 18),
            Deposit = 66.39m,
            TaxWords = "Prices include 20 % VAT.",
            Words = ["You have accepted that your own slate may crack in the oven; then we pay its agreed value of 40.00 EUR."],
        };

    public static byte[] Printed(Letter letter, LetterPaper paper = LetterPaper.A4) =>
        LetterWriter.Write(letter, Head, paper, new DateTime(2026, 5, 4, 8, 0, 0, DateTimeKind.Utc));

    public static Letter Invoice(int lines)
    {
        var draft = SampleInvoices.Draft([
            .. Enumerable.Range(1, lines).Select(i => SampleInvoices.Line(i, i % 7 + 1, 12.34m + i, i % 3 == 0 ? 5m : 20m)),
        ]);
        return InvoiceLetter.Of(SampleInvoices.Issue(draft, "2026-0007"), LetterReader.English);
    }

    public static IssuedInvoice GrossInvoice()
    {
        var net = GrossPrices.ToNet([
            new("1", "Mug with picture", 3m, UnitCodes.Piece, 19.95m, TaxKind.Standard(19)),
            new("2", "Slate", 1m, UnitCodes.Piece, 48.50m, TaxKind.Standard(19)),
        ]);
        var draft = SampleInvoices.Draft([.. net.Lines]) with { Settings = SampleInvoices.Settings with { PricesIncludeTax = true } };
        return SampleInvoices.Issue(draft.Promising(net.Promised), "2026-0008");
    }
}
