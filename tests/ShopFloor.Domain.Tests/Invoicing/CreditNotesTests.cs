using CsCheck;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Tests.Invoicing.InvoicingExamples;

namespace ShopFloor.Domain.Tests.Invoicing;

public sealed class CreditNotesTests
{
    private const string Why = "Taken back";
    private const string How = "Will be paid back.";

    private static readonly Gen<InvoiceDraft> Drafts = Gen.Select(
        GrossLines,
        PlainLines,
        Gen.Bool,
        Gen.Int[0, 90],
        Gen.Int[0, 500],
        (gross, net, isGross, percent, freight) =>
            !isGross ? NetDraft(net, percent, freight)
            : freight % 2 == 0 ? GrossDraft(gross)
            : Discounted(gross, percent)
    );

    [Fact]
    public void Full_AnyInvoice_UndoesItExactly() =>
        Drafts.Sample(
            draft =>
            {
                var invoice = draft.Issued();
                var note = CreditNotes.Full(invoice, Why, How).Issued("C1");
                Assert.Equal(invoice.Totals with { Paid = 0, Due = 0, Groups = [] }, note.Totals with { Paid = 0, Due = 0, Groups = [] });
                Assert.Equal(invoice.Totals.Groups, note.Totals.Groups);
                Assert.Equal(0m, new OpenItem(invoice, [], [note]).Outstanding);
            },
            iter: 1000
        );

    /// <summary>However a sale is taken back in parts, what is payable and every taxable sum come to nothing in the end.</summary>
    [Fact]
    public void Part_AnyInvoiceInAnyParts_TogetherUndoItExactly() =>
        Gen.Select(Drafts, Gen.Int[0, 1_000_000])
            .Sample(
                (draft, seed) =>
                {
                    var invoice = draft.Issued();
                    var notes = InParts(invoice, seed);
                    Assert.Equal(invoice.Totals.Payable, notes.Sum(n => n.Totals.Payable));
                    foreach (var group in invoice.Totals.Groups)
                    {
                        var parts = notes.SelectMany(n => n.Totals.Groups).Where(g => g.Kind == group.Kind).ToList();
                        Assert.Equal(group.Taxable, parts.Sum(p => p.Taxable));
                        Assert.True(Math.Abs(group.Tax - parts.Sum(p => p.Tax)) <= 0.01m * notes.Count);
                        Assert.All(parts, p => Assert.Equal(Money.Round(p.Taxable * p.Kind.Percent / 100m), p.Tax));
                    }
                    Assert.Equal("nothing-to-credit", CreditNotes.Rest(invoice, notes, Why, How).Refusals[0].Code);
                },
                iter: 2000
            );

    [Fact]
    public void Part_OneOfThreeShownWithTax_GivesBackWhatWasShown()
    {
        var invoice = GrossDraft([new("1", "Slate", 3m, "H87", 19.95m, TaxKind.Standard(19))]).Issued();
        var note = CreditNotes.Part(invoice, [], Quantities(("1", 1m)), Why, How).Value.Issued("C1");
        Assert.Equal(19.95m, note.Totals.Due);
        Assert.Equal((16.76m, 3.18m, 0.01m), (note.Totals.WithoutTax, note.Totals.Tax, note.Totals.Rounding));
        Assert.Equal([invoice.Reference], note.Content.Preceding);
    }

    [Fact]
    public void Part_InvoiceWithDiscount_GivesBackTheDiscountedPrice()
    {
        var draft = Draft(Line("1", 2m, 50m)) with { Adjustments = [new(new(IsCharge: false, 10m, "Discount"), TaxKind.Standard(20))] };
        var note = CreditNotes.Part(draft.Issued(), [], Quantities(("1", 1m)), Why, How).Value.Issued("C1");
        Assert.Equal((45m, 54m), (note.Totals.WithoutTax, note.Totals.WithTax));
    }

    [Fact]
    public void Part_DiscountShownWithTax_GivesBackTheDiscountedPrice()
    {
        var invoice = Discounted([new("1", "Slate", 2m, "H87", 60m, TaxKind.Standard(20))], 10).Issued();
        var note = CreditNotes.Part(invoice, [], Quantities(("1", 1m)), Why, How).Value.Issued("C1");
        Assert.Equal((45m, 54m, 54m), (note.Totals.WithoutTax, note.Totals.Due, note.Content.Lines[0].Shown!.UnitPrice));
    }

    /// <summary>5 × 14.40 less 7.20 and 4.86, two charges: a piece is 14.40 − 1.44 − 0.972, shipping is what it was.</summary>
    [Fact]
    public void Part_DiscountsBesideShipping_AreBorneByThePiecesAlone()
    {
        var tax = TaxKind.Standard(19);
        GrossLine[] lines =
        [
            new("1", "Slate", 5m, UnitCodes.Piece, 14.40m, tax),
            new("S1", "Shipping", 1m, UnitCodes.One, 6.90m, tax),
            new("S2", "Gift box", 1m, UnitCodes.One, 5.90m, tax),
        ];
        var net = GrossPrices.ToNet(lines, [new(7.20m, tax, "Ten percent"), new(4.86m, tax, "Late")]);
        var invoice = (Draft([.. net.Lines]) with { Settings = Gross, Adjustments = net.Adjustments }).Promising(net.Promised).Issued();
        Assert.Equal(72.74m, invoice.Totals.Payable);
        Assert.Equal(11.99m, CreditNotes.Part(invoice, [], Quantities(("1", 1m)), Why, How).Value.Totals().Payable);
        Assert.Equal(6.90m, CreditNotes.Part(invoice, [], Quantities(("S1", 1m)), Why, How).Value.Totals().Payable);
    }

    [Fact]
    public void Part_MoreThanIsLeftOrAFraction_IsRefusedAtTheLine()
    {
        var invoice = Draft(Line("1", 3m, 10m), Line("2", 1m, 5m)).Issued();
        var first = CreditNotes.Part(invoice, [], Quantities(("1", 2m)), Why, How).Value.Issued("C1");
        var refusal = Assert.Single(CreditNotes.Part(invoice, [first], Quantities(("1", 2m)), Why, How).Refusals);
        Assert.Equal(("credit-too-much", "1"), (refusal.Code, refusal.Field));
        Assert.Equal("credit-sign", CreditNotes.Part(invoice, [], Quantities(("1", -1m)), Why, How).Refusals[0].Code);
        var half = Assert.Single(CreditNotes.Part(invoice, [], Quantities(("1", 0.5m)), Why, How).Refusals);
        Assert.Equal(("credit-fraction", "1"), (half.Code, half.Field));
        Assert.Equal("no-such-line", CreditNotes.Part(invoice, [], Quantities(("7", 1m)), Why, How).Refusals[0].Code);
        Assert.Equal("nothing-to-credit", CreditNotes.Part(invoice, [], Quantities(), Why, How).Refusals[0].Code);
    }

    private static List<IssuedInvoice> InParts(IssuedInvoice invoice, int seed)
    {
        List<IssuedInvoice> notes = [];
        for (var round = 0; round < 3; round++)
        {
            var picked = CreditNotes
                .Creditable(invoice)
                .Where((_, i) => ((seed >> ((i + round) % 20)) & 1) == 1)
                .Select(l => (l.Line.Id, Some(l, notes, seed + round)));
            var part = CreditNotes.Part(invoice, notes, Quantities([.. picked.Where(p => p.Item2 != 0m)]), Why, How);
            if (part.IsOk && part.Value.Totals().Payable != 0m)
                notes.Add(part.Value.Issued($"C{notes.Count + 1}"));
        }
        var rest = CreditNotes.Rest(invoice, notes, Why, How);
        if (rest.IsOk)
            notes.Add(new IssuedInvoice("CR", Day, rest.Value, rest.Value.Totals()));
        return notes;
    }

    private static decimal Some(CreditableLine line, List<IssuedInvoice> notes, int seed)
    {
        var left = line.Line.Quantity - notes.SelectMany(n => n.Content.Lines).Where(l => l.Id == line.Line.Id).Sum(l => l.Quantity);
        return decimal.Truncate(left * (seed % 7) / 6m);
    }

    private static InvoiceDraft NetDraft(InvoiceLine[] lines, int percent, int freight)
    {
        var tax = lines[0].Tax;
        var sum = lines.Where(l => l.Tax == tax).Sum(l => Math.Max(0m, l.Net()));
        return Draft(lines) with
        {
            Adjustments =
            [
                new(Adjustment.OfPercent(isCharge: false, sum, percent, "Discount"), tax),
                new(new(IsCharge: true, freight / 100m, "Shipping"), tax),
            ],
        };
    }

    private static Dictionary<string, decimal> Quantities(params (string Id, decimal Quantity)[] all) =>
        all.ToDictionary(p => p.Id, p => p.Quantity);
}
