using CsCheck;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Tests.Pricing.PricingExamples;

namespace ShopFloor.Domain.Tests.Pricing;

public sealed class LinePriceTests
{
    [Fact]
    public void Compute_Slates_IsTheSumDoneByHand()
    {
        var price = LinePrice.Compute(Request).Value;
        // Cost 94.6827 + 25 % = 118.3534, less 5 % = 112.4357, so 11.24 a piece.
        Assert.Equal(Eur(94.68m), price.Cost);
        Assert.Equal(Eur(11.24m), price.UnitPrice);
        Assert.Equal(Eur(112.40m), price.LineTotal);
        Assert.Equal(Eur(33.72m), price.Deposit);
        Assert.False(price.BelowCost);
        Assert.Equal(
            [
                "coating.promoter",
                "coating.white-base",
                "coating.clear",
                "transfer",
                "consumables",
                "labour",
                "machine.oven",
                "machine.press",
            ],
            price.Parts.Take(8).Select(p => p.Code)
        );
        Assert.Equal(["blank", "loss", "overhead", "profit", "quantity", "rounding"], price.Parts.Skip(8).Select(p => p.Code));
        Assert.Equal(Eur(-5.92m), price.Parts.Single(p => p.Code == "quantity").PerLine);
    }

    [Fact]
    public void Compute_AnyRequest_PartsAddUpPerPieceAndPerLine() =>
        Requests.Sample(
            request =>
            {
                var price = LinePrice.Compute(request).Value;
                Assert.Equal(price.UnitPrice.Amount, price.Parts.Sum(p => p.PerPiece.Amount));
                Assert.Equal(price.LineTotal.Amount, price.Parts.Sum(p => p.PerLine.Amount));
                Assert.Equal(price.UnitPrice * price.Pieces, price.LineTotal);
                Assert.All(price.Parts, p => Assert.Equal(p.PerLine, p.PerLine.Rounded()));
            },
            iter: 2000
        );

    [Fact]
    public void Compute_AnyRequestNotByHand_KeepsTheMinimumAndTheStep() =>
        Requests.Sample(
            request =>
            {
                var price = LinePrice.Compute(request with { Override = null }).Value;
                var beforeTax = price.LineTotal.Amount / (1 + ((request.IncludedTaxPercent ?? 0) / 100m));
                Assert.True(beforeTax >= request.Rule.MinimumPerLine.Amount - 1e-9m);
                Assert.Equal(0m, price.UnitPrice.Amount % request.Rule.RoundUnitPriceTo);
            },
            iter: 2000
        );

    [Fact]
    public void Compute_AnyRequest_MoreOfAnythingNeverMakesItCheaper() =>
        Requests.Sample(
            request =>
            {
                var plain = request with { Override = null };
                var more = plain with
                {
                    Work = plain.Work with { BlankPerPiece = plain.Work.BlankPerPiece + Eur(1), Attended = new(3700, 7300) },
                };
                Assert.True(LinePrice.Compute(more).Value.UnitPrice.Amount >= LinePrice.Compute(plain).Value.UnitPrice.Amount);
            },
            iter: 2000
        );

    [Fact]
    public void Compute_Margin_IsOfThePrice()
    {
        var rule = Rule with { Profit = ProfitKind.Margin, ProfitPercent = 20, QuantitySteps = [] };
        var price = LinePrice.Compute(Request with { Rule = rule }).Value;
        Assert.Equal(Eur(11.84m), price.UnitPrice); // 94.6827 ÷ 0.8 ÷ 10 = 11.835
    }

    [Fact]
    public void Compute_SmallLine_IsRaisedToTheMinimumAfterDiscounts()
    {
        var price = LinePrice
            .Compute(
                Request with
                {
                    Work = Slates with { Pieces = 1 },
                    Rule = Rule with { MinimumPerLine = Eur(60) },
                    CustomerGroup = "school",
                }
            )
            .Value;
        Assert.Equal(Eur(60), price.LineTotal);
        Assert.Contains(price.Parts, p => p.Code == "minimum" && p.PerLine.Amount > 0);
    }

    [Theory]
    [InlineData(9, null)]
    [InlineData(10, 5)]
    [InlineData(49, 5)]
    [InlineData(50, 12)]
    [InlineData(1000, 12)]
    public void StepFor_NumberOfPieces_IsTheHighestReached(int pieces, int? percent) =>
        Assert.Equal(percent, (int?)Rule.StepFor(pieces)?.DiscountPercent);

    [Fact]
    public void Compute_PriceShownWithTax_ContainsIt()
    {
        var price = LinePrice.Compute(Request with { IncludedTaxPercent = 20, Rule = Rule with { RoundUnitPriceTo = 0.50m } }).Value;
        Assert.Equal(Eur(13.50m), price.UnitPrice); // 11.24357 × 1.2 = 13.4923
        Assert.Equal(Eur(22.49m), price.Parts.Single(p => p.Code == "tax").PerLine);
        Assert.Equal(Eur(0.08m), price.Parts.Single(p => p.Code == "rounding").PerLine);
    }

    [Fact]
    public void Compute_Rush_AddsItsShare()
    {
        var rushed = LinePrice.Compute(Request with { Rush = true }).Value;
        Assert.Equal(Eur(13.49m), rushed.UnitPrice);
        Assert.Equal(Eur(22.49m), rushed.Parts.Single(p => p.Code == "rush").PerLine);
    }

    [Fact]
    public void Compute_ByHand_ShowsDifferenceWithReasonAndWarnsBelowCost()
    {
        var price = LinePrice.Compute(Request with { Override = new(Eur(9m), "  promised last year ") }).Value;
        var part = price.Parts.Single(p => p.Code == "override");
        Assert.Equal("Price set by hand: promised last year", part.Name);
        Assert.Equal(Eur(-22.40m), part.PerLine);
        Assert.True(price.BelowCost);
    }

    [Theory]
    [InlineData(9, "", "override-reason")]
    [InlineData(-1, "a gift", "override-price")]
    [InlineData(9.005, "a gift", "override-price")]
    public void Compute_ByHandWithoutReasonOrAbsurd_IsRefused(double price, string reason, string code) =>
        Assert.Equal(code, Assert.Single(LinePrice.Compute(Request with { Override = new(Eur((decimal)price), reason) }).Refusals).Code);

    [Fact]
    public void Compute_EverythingWrong_TellsEverything()
    {
        var bad = Request with
        {
            Rule = Rule with { DepositPercent = 101, RushPercent = -1, RoundUnitPriceTo = 0 },
            Work = Slates with { Pieces = 0 },
        };
        Assert.Equal(["rush", "deposit", "round-to", "pieces"], LinePrice.Compute(bad).Refusals.Select(r => r.Code));
    }

    [Fact]
    public void Hash_SameWordsOtherDecimals_IsTheSame()
    {
        var again = Request with { Rates = Rates with { LabourPerHour = Eur(36.000m) } };
        Assert.Equal(LinePrice.Compute(Request).Value.Hash, LinePrice.Compute(again).Value.Hash);
    }

    /// <summary>The fingerprint is stored with orders: a change of its text would make every waiting price look changed.</summary>
    [Fact]
    public void Hash_Slates_NeverChanges() => Assert.Equal("146591bd7c01639379dede11d2e6deaa", LinePrice.Compute(Request).Value.Hash);

    [Fact]
    public void Hash_RateChanged_IsAnother()
    {
        var dearer = Request with { Rates = Rates with { LabourPerHour = Eur(38m) } };
        Assert.NotEqual(LinePrice.Compute(Request).Value.Hash, LinePrice.Compute(dearer).Value.Hash);
    }
}
