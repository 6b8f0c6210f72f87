using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Documents.Tests.EInvoice;

/// <summary>Documents of an invented workshop: one of each kind, and as many drawn ones as wanted, the same for a seed.</summary>
internal static class SampleInvoices
{
    public static readonly DateOnly Day = new(2026, 5, 4);

    private static readonly decimal[] Rates = [20m, 25m, 19m, 5.5m, 10m, 27m];

    public static Party Seller { get; } =
        new(
            "Lindgate Coating & Print",
            new("Mill Lane 4", "Yard B", "Lindgate", "1234", "West", "IE"),
            "Lindgate",
            "S-1",
            "R-77",
            "IE1234567X",
            Email: "office@lindgate.example",
            Phone: "+353 1 000 000",
            Contact: "Rowan"
        );

    public static Party Buyer { get; } =
        new(
            "Žofie Łukasiewicz-Ångström",
            new("Ørsted Quay 9", null, "Høfn", "4321", null, "DE"),
            Id: "C-12",
            VatId: "DE123456789",
            RegisterId: "HR 5"
        );

    public static TaxSettings Settings { get; } = new(TaxScheme.Vat, "VAT", "EUR", PricesIncludeTax: false);

    public static InvoiceDraft Draft(params InvoiceLine[] lines) =>
        new(DocumentKind.Invoice, Settings, Seller, Buyer, lines)
        {
            DueDate = Day.AddDays(14),
            Terms = "14 days net",
            PaymentMeans = [new(PaymentMeansCodes.SepaTransfer, "IE00TEST0000", "Lindgate", "TESTIE00")],
            Delivery = new(Day, Buyer.Address),
            OrderCode = "A-17",
            Note = "Thank you. Order #BUY# is done.",
        };

    public static InvoiceLine Line(int id, decimal quantity, decimal price, decimal rate) =>
        new($"{id}", "Roof slate <300 × 200> with picture", quantity, UnitCodes.Piece, price, TaxKind.Standard(rate))
        {
            Description = "White ground, rounded corners",
            Properties = [new("Material", "slate"), new("Size", "300 × 200 mm")],
        };

    public static IssuedInvoice Issue(InvoiceDraft draft, string number)
    {
        var issued = draft.Issue(number, Day);
        return issued.IsOk
            ? issued.Value
            : throw new InvalidOperationException(string.Join("; ", issued.Refusals.Select(r => $"{r.Code} {r.Text}")));
    }

    /// <summary>One document of each kind and tax category.</summary>
    public static IEnumerable<IssuedInvoice> EachKind()
    {
        var order = Draft(Line(1, 10m, 100m, 20m), Line(2, 1m, 33.33m, 5m));
        var deposit = Issue(
            order with
            {
                Kind = DocumentKind.DepositInvoice,
                Lines = Deposits.Lines(order.Totals().Groups, new Money(300m, "EUR"), false, "Deposit").Lines,
            },
            "D1"
        );
        yield return deposit;
        yield return Issue(Deposits.Deduct(order, [deposit], d => $"Deposit {d.Number}"), "F1");
        yield return Issue(
            order with
            {
                Kind = DocumentKind.PartInvoice,
                BuyersOrder = "PO 1",
                BuyerReference = "Room 4",
                Paid = 12.34m,
            },
            "P1"
        );
        yield return Issue(Draft(Line(1, 100m, 0.1212m, 25m) with { ListPrice = 0.1234m, PriceDiscount = 0.0022m }), "L1");
        yield return Issue(
            Draft(
                Line(1, 90m, 1585m, 25m) with
                {
                    PriceQuantity = 365m,
                    Adjustments = [new(true, 33m, "Engraving"), Adjustment.OfPercent(false, 390.82m, 10m, "Flaw")],
                }
            ),
            "B1"
        );
        yield return Issue(
            (Draft(Line(1, 1m, 99.99m, 25m)) with { Settings = Settings with { CashStep = 0.05m } }).RoundedForPayment(cash: true),
            "R1"
        );
        yield return Issue(
            (Draft(Line(1, 3m, 1234m, 10m)) with { Settings = Settings with { Currency = "JPY" } }).RoundedForPayment(cash: false),
            "J1"
        );
        foreach (
            var category in new[]
            {
                TaxCategory.ZeroRated,
                TaxCategory.Exempt,
                TaxCategory.ReverseCharge,
                TaxCategory.IntraUnion,
                TaxCategory.Export,
                TaxCategory.OutsideScope,
            }
        )
            yield return Issue(In(category), $"X-{category.Code()}");
    }

    /// <summary>Drawn documents: prices with and without tax, several rates, discounts, charges, credit notes for all and for parts.</summary>
    public static IEnumerable<IssuedInvoice> Drawn(int count, int seed)
    {
        var random = new Random(seed);
        for (var i = 0; i < count; i++)
        {
            var invoice = Issue(i % 2 == 0 ? Net(random) : Gross(random), $"N{i}");
            yield return invoice;
            if (i % 3 == 0)
                yield return Issue(CreditNotes.Full(invoice, "Taken back", "Will be paid back."), $"C{i}");
            else if (i % 3 == 1)
                foreach (var note in Parts(invoice, random, i))
                    yield return note;
        }
    }

    private static IEnumerable<IssuedInvoice> Parts(IssuedInvoice invoice, Random random, int number)
    {
        var line = invoice.Content.Lines[random.Next(invoice.Content.Lines.Count)];
        var part = CreditNotes.Part(
            invoice,
            [],
            new Dictionary<string, decimal> { [line.Id] = line.Quantity / 2m },
            "Chipped corner",
            "Will be paid back."
        );
        if (!part.IsOk || part.Value.Lines.All(l => l.Net() == 0m))
            yield break;
        var first = Issue(part.Value, $"C{number}a");
        yield return first;
        yield return Issue(CreditNotes.Rest(invoice, [first], "Taken back", "Will be paid back.").Value, $"C{number}b");
    }

    private static InvoiceDraft Net(Random random)
    {
        var lines = Enumerable
            .Range(1, random.Next(1, 9))
            .Select(i => Line(i, Quantity(random), random.Next(1, 9_000_000) / 10_000m, Rate(random)))
            .ToArray();
        var sum = lines.Where(l => l.Tax == lines[0].Tax).Sum(l => Math.Max(0m, l.Net()));
        return Draft(lines) with
        {
            Adjustments =
            [
                new(Adjustment.OfPercent(isCharge: false, sum, random.Next(0, 30), "Discount for a friend"), lines[0].Tax),
                new(new(IsCharge: true, random.Next(0, 2000) / 100m, "Shipping", ReasonCode: "FC"), lines[0].Tax),
            ],
            Paid = random.Next(3) == 0 ? random.Next(0, 5000) / 100m : 0m,
        };
    }

    private static InvoiceDraft Gross(Random random)
    {
        var lines = Enumerable
            .Range(1, random.Next(1, 9))
            .Select(i => new GrossLine(
                $"{i}",
                "Mug with picture",
                Quantity(random),
                UnitCodes.Piece,
                random.Next(1, 20_000) / 100m,
                TaxKind.Standard(Rate(random))
            ))
            .ToList();
        var discounts = lines
            .GroupBy(l => l.Tax)
            .Select(g => (g.Key, Sum: g.Where(l => l.Amount > 0m).Sum(l => l.Amount)))
            .Where(g => g.Sum > 1m && random.Next(2) == 0)
            .Select(g => new GrossDiscount(Money.Round(g.Sum * random.Next(1, 100) / 100m), g.Key, "Discount, for a friend"))
            .ToList();
        var net = GrossPrices.ToNet(lines, discounts);
        return (
            Draft([.. net.Lines]) with
            {
                Settings = Settings with { PricesIncludeTax = true },
                Adjustments = net.Adjustments,
            }
        ).Promising(net.Promised);
    }

    private static decimal Quantity(Random random) =>
        random.Next(6) switch
        {
            0 => -random.Next(1, 4),
            1 => random.Next(1, 5000) / 1000m,
            _ => random.Next(1, 60),
        };

    private static decimal Rate(Random random) => Rates[random.Next(Rates.Length)];

    private static InvoiceDraft In(TaxCategory category)
    {
        var draft = Draft(Line(1, 2m, 50m, 0m) with { Tax = new(category, 0m) }) with
        {
            Reasons = category.NeedsReason()
                ? [new(category, category == TaxCategory.Exempt ? null : Code(category), "No tax, as the law says")]
                : [],
        };
        return category == TaxCategory.OutsideScope
            ? draft with
            {
                Seller = Seller with { VatId = null },
                Buyer = Buyer with { VatId = null },
            }
            : draft;
    }

    private static string Code(TaxCategory category) => $"VATEX-EU-{(category == TaxCategory.IntraUnion ? "IC" : category.Code())}";
}
