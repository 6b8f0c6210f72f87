using CsCheck;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Tests.Invoicing.InvoicingExamples;

namespace ShopFloor.Domain.Tests.Invoicing;

/// <summary>Cutting sums over rates of tax never loses or makes a cent. The rule ids are those of EN 16931-1.</summary>
public sealed class TaxSplitTests
{
    private static readonly decimal[] Rates = [0m, 5m, 5.5m, 7m, 10m, 19m, 20m, 21m, 25m, 27m];

    private static readonly Gen<(decimal Amount, decimal Rate)[]> Shown = Gen.Select(
        Gen.Int[1, 5_000_00],
        Gen.Int[0, Rates.Length - 1],
        (cents, rate) => (cents / 100m, Rates[rate])
    ).Array[1, 30];

    /// <summary>What was shown is what is due, and the groups are all of it: net + tax + rounding of each rate is the sum shown at that rate.</summary>
    [Fact]
    public void Groups_AnySalesShownWithTax_AddUpToWhatWasShownAtEachRateAndInAll() =>
        Shown.Sample(
            sales =>
            {
                var draft = GrossDraft([.. sales.Select((s, i) => new GrossLine($"{i + 1}", "Piece", 1m, "H87", s.Amount, Kind(s.Rate)))]);
                var totals = draft.Totals();
                Assert.Equal(sales.Sum(s => s.Amount), totals.Due);
                Assert.Equal(totals.Due, totals.Groups.Sum(g => g.Taxable + g.Tax) + totals.Rounding);
                foreach (var rate in sales.GroupBy(s => s.Rate))
                {
                    var group = Assert.Single(totals.Groups, g => g.Kind.Percent == rate.Key);
                    Assert.True(Math.Abs(rate.Sum(s => s.Amount) - group.Taxable - group.Tax) <= 0.01m);
                    // BR-S-08: the net of a rate is the sum of its lines' nets.
                    Assert.Equal(group.Taxable, draft.Lines.Where(l => l.Tax == group.Kind).Sum(l => l.Net()));
                }
            },
            iter: 3000
        );

    /// <summary>BR-CO-10, -13, -14, -15: the parts of a document sum to its totals, however the lines are spread over rates.</summary>
    [Fact]
    public void Totals_AnyLinesOverManyRates_AreTheSumsOfTheirParts() =>
        Gen.Select(Shown, Gen.Int[0, 100], Gen.Int[0, 10_000])
            .Sample(
                (sales, percent, freight) =>
                {
                    var lines = sales.Select((s, i) => Line($"{i + 1}", 1m, s.Amount) with { Tax = Kind(s.Rate) }).ToArray();
                    var tax = lines[0].Tax;
                    var sum = lines.Where(l => l.Tax == tax).Sum(l => l.Net());
                    var totals = (
                        Draft(lines) with
                        {
                            Adjustments =
                            [
                                new(Adjustment.OfPercent(isCharge: false, sum, percent, "Discount"), tax),
                                new(new(IsCharge: true, freight / 100m, "Shipping"), lines[^1].Tax),
                            ],
                        }
                    ).Totals();
                    Assert.Equal(totals.Lines, lines.Sum(l => l.Net()));
                    Assert.Equal(totals.WithoutTax, totals.Groups.Sum(g => g.Taxable));
                    Assert.Equal(totals.Tax, totals.Groups.Sum(g => g.Tax));
                    Assert.Equal(totals.WithTax, totals.WithoutTax + totals.Tax);
                    Assert.All(totals.Groups, g => Assert.Equal(Money.Round(g.Taxable * g.Kind.Percent / 100m), g.Tax));
                },
                iter: 3000
            );

    /// <summary>A discount or a charge on the whole is cut over the rates without a cent too many, and no rate gets more than its share and a cent.</summary>
    [Fact]
    public void ToNet_DiscountOfAnyShareOfAnySale_TakesOffExactlyWhatWasPromised() =>
        Gen.Select(Shown, Gen.Int[1, 100])
            .Sample(
                (sales, percent) =>
                {
                    IReadOnlyList<GrossLine> lines =
                    [
                        .. sales.Select((s, i) => new GrossLine($"{i + 1}", "Piece", 1m, "H87", s.Amount, Kind(s.Rate))),
                    ];
                    var shown = sales.Sum(s => s.Amount);
                    var off = Money.Round(shown * percent / 100m);
                    var groups = lines.GroupBy(l => l.Tax).Select(g => (Tax: g.Key, Sum: g.Sum(l => l.Amount))).ToList();
                    var shares = Apportion.ByWeight(off, [.. groups.Select(g => g.Sum)], 2);
                    var cut = GrossPrices.ToNet(lines, [.. groups.Select((g, i) => new GrossDiscount(shares[i], g.Tax, "Discount"))]);
                    Assert.Equal(off, cut.Adjustments.Sum(a => a.Shown));
                    Assert.Equal(shown - off, cut.Promised);
                    Assert.All(
                        cut.Adjustments,
                        a => Assert.True(Math.Abs(a.Adjustment.Amount - a.Shown!.Value / (1 + a.Tax.Percent / 100m)) < 0.01m)
                    );
                },
                iter: 3000
            );

    /// <summary>One sum cut at a change of rate into pieces before and after: net by net and gross by gross the running shares are the whole.</summary>
    [Fact]
    public void ByWeight_OneSumOverRatesAndThenOverPieces_IsStillTheSum() =>
        Gen.Select(Gen.Int[1, 10_000_000], Gen.Int[1, 200].Array[1, 10], Gen.Int[1, 12])
            .Sample(
                (cents, weights, pieces) =>
                {
                    var total = new Money(cents / 100m, "EUR");
                    var rates = Apportion.ByWeight(total, [.. weights.Select(w => (decimal)w)]);
                    var all = rates.SelectMany(r => Apportion.ByWeight(r, [.. Enumerable.Repeat(1m, pieces)])).ToList();
                    Assert.Equal(total.Amount, all.Sum(a => a.Amount));
                    Assert.All(all, a => Assert.Equal(a.Amount, Money.Round(a.Amount)));
                }
            );

    private static TaxKind Kind(decimal rate) => rate == 0m ? new TaxKind(TaxCategory.ZeroRated, 0m) : TaxKind.Standard(rate);
}
