using CsCheck;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Documents of an invented workshop, and generators of others.</summary>
internal static class InvoicingExamples
{
    public static readonly DateOnly Day = new(2026, 5, 4);

    private static readonly decimal[] Rates = [20m, 25m, 19m, 5.5m, 7m, 10m];

    public static Party Seller { get; } =
        new("Lindgate Coating", new("Mill Lane 4", null, "Lindgate", "1234", null, "IE"), VatId: "IE1234567X", RegisterId: "R-77");

    public static Party Buyer { get; } = new("Orla Fenn", new("Quay 9", null, "Harbour Town", "4321", null, "IE"));

    public static TaxSettings Net { get; } = new(TaxScheme.Vat, "VAT", "EUR", PricesIncludeTax: false);

    public static TaxSettings Gross { get; } = Net with { PricesIncludeTax = true };

    public static InvoiceLine Line(string id, decimal quantity, decimal price, decimal rate = 20m) =>
        new(id, $"Slate {id}", quantity, UnitCodes.Piece, price, TaxKind.Standard(rate));

    public static InvoiceDraft Draft(params InvoiceLine[] lines) =>
        new(DocumentKind.Invoice, Net, Seller, Buyer, lines)
        {
            DueDate = Day.AddDays(14),
            PaymentMeans = [new(PaymentMeansCodes.SepaTransfer, "IE00TEST")],
        };

    public static InvoiceDraft GrossDraft(IReadOnlyList<GrossLine> lines)
    {
        var net = GrossPrices.ToNet(lines);
        return (Draft([.. net.Lines]) with { Settings = Gross }).Promising(net.Promised);
    }

    /// <summary>Lines shown with tax, with the same percent taken off each tax group that comes to something.</summary>
    public static InvoiceDraft Discounted(IReadOnlyList<GrossLine> lines, int percent)
    {
        var discounts = lines
            .GroupBy(l => l.Tax)
            .Select(g => new GrossDiscount(
                Domain.Quantities.Money.Round(Math.Max(0m, g.Sum(l => l.Amount)) * percent / 100m),
                g.Key,
                "For a friend"
            ))
            .Where(d => d.Amount > 0m)
            .ToList();
        var net = GrossPrices.ToNet(lines, discounts);
        return (Draft([.. net.Lines]) with { Settings = Gross, Adjustments = net.Adjustments }).Promising(net.Promised);
    }

    public static IssuedInvoice Issued(this InvoiceDraft draft, string number = "2026-0001")
    {
        var issued = draft.Issue(number, Day);
        Assert.True(issued.IsOk, string.Join("; ", issued.Refusals.Select(r => $"{r.Code} {r.Text}")));
        return issued.Value;
    }

    private static Gen<decimal> Rate { get; } = Gen.Int[0, Rates.Length - 1].Select(i => Rates[i]);

    /// <summary>Lines with tax: mostly whole pieces, some by measure, some taking off.</summary>
    public static Gen<IReadOnlyList<GrossLine>> GrossLines { get; } =
        Gen.Select(Gen.Int[-3, 40], Gen.Int[0, 4], Gen.Int[1, 30_000], Rate, Gen.Int[0, 5])
            .Array[1, 12]
            .Select(rows =>
                (IReadOnlyList<GrossLine>)
                    [
                        .. rows.Select(
                            (r, i) =>
                                new GrossLine(
                                    $"{i + 1}",
                                    $"Piece {i + 1}",
                                    Quantity(r.Item1, r.Item2),
                                    UnitCodes.Piece,
                                    r.Item3 / 100m,
                                    TaxKind.Standard(r.Item4)
                                )
                                {
                                    DiscountPercent = r.Item5 == 5 ? 12.5m : 0m,
                                }
                        ),
                    ]
            );

    /// <summary>Lines without tax, with prices of up to four decimals, prices per hundred and allowances.</summary>
    public static Gen<InvoiceLine[]> PlainLines { get; } =
        Gen.Select(Gen.Int[-2, 60], Gen.Int[0, 3], Gen.Int[1, 5_000_000], Rate, Gen.Int[0, 3], Gen.Int[0, 200])
            .Array[1, 12]
            .Select(rows =>
                rows.Select(
                        (r, i) =>
                            Line($"{i + 1}", Quantity(r.Item1, r.Item2), r.Item3 / 10_000m, r.Item4) with
                            {
                                PriceQuantity = r.Item5 == 3 ? 100m : 1m,
                                Adjustments = r.Item5 == 2 ? [new(IsCharge: true, r.Item6 / 100m, "Engraving")] : [],
                            }
                    )
                    .ToArray()
            );

    private static decimal Quantity(int pieces, int kind) => (pieces == 0 ? 1 : pieces) * (kind == 4 ? 0.625m : 1m);
}
