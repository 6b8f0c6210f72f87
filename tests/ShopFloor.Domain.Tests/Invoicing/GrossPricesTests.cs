using CsCheck;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Tests.Invoicing.InvoicingExamples;

namespace ShopFloor.Domain.Tests.Invoicing;

public sealed class GrossPricesTests
{
    /// <summary>19.95 with 19 % is 16.76 and 3.18, one cent short: a published case (ZUGFeRD/mustangproject, issue 239).</summary>
    [Fact]
    public void ToNet_OneCentCannotBeReached_IsRoundingNotTax()
    {
        var totals = GrossDraft([new("1", "Slate", 1m, "H87", 19.95m, TaxKind.Standard(19))]).Totals();
        Assert.Equal((16.76m, 3.18m, 19.94m, 0.01m, 19.95m), (totals.WithoutTax, totals.Tax, totals.WithTax, totals.Rounding, totals.Due));
    }

    [Fact]
    public void ToNet_AnyLines_AmountDueIsWhatWasShownAndArithmeticHolds() =>
        GrossLines.Sample(
            lines =>
            {
                var totals = GrossDraft(lines).Totals();
                Assert.Equal(lines.Sum(l => l.Amount), totals.Due);
                Assert.True(Math.Abs(totals.Rounding) <= 0.01m * totals.Groups.Count);
                Assert.All(totals.Groups, g => Assert.Equal(Money.Round(g.Taxable * g.Kind.Percent / 100m), g.Tax));
                Assert.Equal(totals.Lines, GrossPrices.ToNet(lines).Lines.Sum(l => l.Net()));
            },
            iter: 3000
        );

    [Fact]
    public void ToNet_AnyLines_PricesAreNeverNegativeAndKeepTheLine() =>
        GrossLines.Sample(
            lines =>
            {
                var net = GrossPrices.ToNet(lines).Lines;
                Assert.All(
                    net.Zip(lines),
                    p =>
                    {
                        Assert.True(p.First.Price >= 0m);
                        Assert.Equal((p.Second.Id, p.Second.Quantity), (p.First.Id, p.First.Quantity));
                        Assert.True(Math.Abs(p.First.Net() - (p.Second.Amount / (1m + (p.Second.Tax.Percent / 100m)))) < 0.01m);
                    }
                );
            },
            iter: 2000
        );

    /// <summary>For every shown sum the cent that is missing or left is at most one, at every rate from 5 to 27 %.</summary>
    [Fact]
    public void ToNet_EverySumToTwoHundred_MissesByAtMostOneCent()
    {
        for (var rate = 5m; rate <= 27m; rate++)
        for (var cents = 1; cents <= 20_000; cents += 7)
        {
            var net = Money.Round(cents / 100m / (1m + (rate / 100m)));
            Assert.True(Math.Abs((cents / 100m) - net - TaxKind.Standard(rate).TaxOn(net)) <= 0.01m);
        }
    }

    /// <summary>Whatever is taken off, the document comes to lines less discounts as shown, and keeps every formula.</summary>
    [Fact]
    public void ToNet_AnyDiscounts_AmountDueIsWhatWasShown() =>
        Gen.Select(GrossLines, Gen.Int[1, 100])
            .Sample(
                (lines, percent) =>
                {
                    var draft = Discounted(lines, percent);
                    var (totals, shown) = (draft.Totals(), draft.Adjustments.Sum(a => a.Shown!.Value));
                    Assert.Equal(lines.Sum(l => l.Amount) - shown, totals.Due);
                    Assert.True(Math.Abs(totals.Rounding) <= 0.01m * totals.Groups.Count);
                    Assert.All(totals.Groups, g => Assert.Equal(Money.Round(g.Taxable * g.Kind.Percent / 100m), g.Tax));
                    Assert.All(draft.Adjustments, a => Assert.True(a.Adjustment.Amount >= 0m));
                },
                iter: 2000
            );

    [Fact]
    public void ToNet_DiscountOnTwoRates_IsAnAllowanceForEach()
    {
        IReadOnlyList<GrossLine> lines =
        [
            new("1", "Slate", 3m, "H87", 10m, TaxKind.Standard(20)),
            new("2", "Book", 1m, "H87", 10m, TaxKind.Standard(5)),
        ];
        var net = GrossPrices.ToNet(
            lines,
            [new(7.50m, TaxKind.Standard(20), "For a friend"), new(2.50m, TaxKind.Standard(5), "For a friend")]
        );
        Assert.Equal([(6.25m, 7.50m), (2.38m, 2.50m)], net.Adjustments.Select(a => (a.Adjustment.Amount, a.Shown!.Value)));
        Assert.Equal(30m, net.Promised);
    }

    // ISO 4217, the currencies of the list whose minor unit is 0.
    [Theory]
    [InlineData("BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF", 0)]
    [InlineData("EUR USD CHF MGA MRU HUF TWD", 2)]
    public void MinorDigits_ByIso4217_AreThoseOfTheSmallestCoin(string currencies, int digits) =>
        Assert.All(currencies.Split(' '), c => Assert.Equal((digits, true), (Money.MinorDigits(c), Codes.IsCurrency(c))));

    [Fact]
    public void RoundedForPayment_CurrencyWithoutCents_IsDueInWholeCoins()
    {
        var draft = Draft(Line("1", 1m, 1234m, 10m)) with { Settings = Net with { Currency = "JPY" } };
        var totals = draft.RoundedForPayment(cash: false).Totals();
        Assert.Equal((1357.40m, -0.40m, 1357m), (totals.WithTax, totals.Rounding, totals.Due));
    }
}
