using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using static ShopFloor.Domain.Tests.Pricing.PricingExamples;

namespace ShopFloor.Domain.Tests.Pricing;

public sealed class LineCostTests
{
    /// <summary>
    /// Published energy examples. 200 W × 4 h × 120 d at 0.085 = 8.16: acenergy.ca and Penn State EGEE 102. 1200 W at 20 % of 24 h = 5.76 kWh:
    /// apogee.net, estimating kWh. 250 W × 5 h × 365 at 0.17 = 77.56: a published kWh guide. 2000 W × 0.5 h = 1 kWh: myhomeniche.com.
    /// </summary>
    [Theory]
    [InlineData(200, 480, 100, 0.085, 8.16)]
    [InlineData(1200, 24, 20, 1, 5.76)]
    [InlineData(250, 1825, 100, 0.17, 77.56)]
    [InlineData(2000, 0.5, 100, 1, 1.00)]
    public void Of_MachineTimeOnly_CostsThePublishedEnergy(double watts, double hours, double duty, double perKwh, double expected)
    {
        var rates = Rates with { EnergyPerKilowattHour = Eur((decimal)perKwh), Machines = [new("oven", Eur(0))], OverheadPercent = 0 };
        // A longer time than one load may last is given as 100 pieces with a hundredth of the time each.
        var time = new MachineTime("oven", "Oven", (decimal)(hours * 36), 1, (decimal)watts, (decimal)duty);
        var cost = LineCost.Of(Bare(100) with { Machines = [time] }, rates).Value;
        Assert.Equal((decimal)expected, Money.Round(cost.Total));
    }

    /// <summary>10 good pieces at a yield of 0.95 need 10.526 starts: demand ÷ yield (Tompkins et al., scrap estimate; value from memory).</summary>
    [Fact]
    public void Of_BlankWithLoss_PaysForTheStartsNeeded()
    {
        var work = Bare(10) with { BlankPerPiece = Eur(1), Risk = new SpoilRisk(0.05m, Eur(0)) };
        var cost = LineCost.Of(work, Rates with { OverheadPercent = 0 }).Value;
        Assert.Equal(10.526m, Math.Round(cost.Total, 3));
    }

    [Fact]
    public void Of_OwnPieceWithLoss_ChanceOfPayingItsValueIsInThePrice()
    {
        var work = Bare(1) with { Attended = new(3600, 0), Risk = new SpoilRisk(0.1m, Eur(90)) };
        var cost = LineCost.Of(work, Rates with { OverheadPercent = 0 }).Value;
        // Paid in 9 of 10 cases, 90 given back in 1 of 10: 0.9 × price = 36 + 9.
        Assert.Equal(50m, Math.Round(cost.Total, 10));
    }

    [Fact]
    public void Of_Slates_EveryPartIsTheSumDoneByHand()
    {
        var parts = LineCost.Of(Slates, Rates).Value.Parts.ToDictionary(p => p.Code, p => p.Amount);
        Assert.Equal(0.40m, parts["coating.promoter"]);
        Assert.Equal(3.00m, parts["coating.white-base"]);
        Assert.Equal(4.80m, parts["coating.clear"]);
        Assert.Equal(6.00m, parts["transfer"]);
        Assert.Equal(1.50m, parts["consumables"]);
        Assert.Equal(33.00m, parts["labour"]); // 3300 s at 36.00
        Assert.Equal(2.30m, parts["machine.oven"]); // 10 ÷ 6 × 0.5 h × (2.40 + 1.2 kW × 0.30)
        Assert.Equal(1.31125m, parts["machine.press"]); // 10 × 150 s × (3.00 + 0.49 kW × 0.30)
        Assert.Equal(28.00m, parts["blank"]);
        Assert.Equal(4.2269m, Math.Round(parts["loss"], 4)); // 80.31125 × 5 ÷ 95
        Assert.Equal(10.1446m, Math.Round(parts["overhead"], 4));
    }

    [Fact]
    public void Of_TwoCures_AreOnePartWithBothTimes()
    {
        var once = LineCost.Of(Slates, Rates).Value.Parts.Single(p => p.Code == "machine.oven").Amount;
        var oven = Slates.Machines[0];
        var twice = LineCost.Of(Slates with { Machines = [oven, oven] }, Rates).Value.Parts.Single(p => p.Code == "machine.oven").Amount;
        Assert.Equal(2 * once, twice);
    }

    [Fact]
    public void Of_MachineWithoutRate_SaysWhichOne()
    {
        var work = Slates with { Machines = [new("mug-press", "Mug press", 60, 1, 300, 100)] };
        var refusal = Assert.Single(LineCost.Of(work, Rates).Refusals);
        Assert.Equal("machine-rate-missing", refusal.Code);
        Assert.Contains("Mug press", refusal.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-3)]
    [InlineData(100_001)]
    public void Of_AbsurdNumberOfPieces_IsRefusedAtTheField(int pieces)
    {
        var refusal = Assert.Single(LineCost.Of(Slates with { Pieces = pieces }, Rates).Refusals);
        Assert.Equal("Pieces", refusal.Field);
    }

    [Fact]
    public void Of_RateOfZeroOrMinus_IsRefused()
    {
        Assert.Equal("labour-rate", Assert.Single(LineCost.Of(Slates, Rates with { LabourPerHour = Eur(0) }).Refusals).Code);
        Assert.Equal("labour-rate", Assert.Single(LineCost.Of(Slates, Rates with { LabourPerHour = Eur(-1) }).Refusals).Code);
        Assert.Equal("energy-rate", Assert.Single(LineCost.Of(Slates, Rates with { EnergyPerKilowattHour = Eur(-0.01m) }).Refusals).Code);
        Assert.Equal(
            "machine-rate",
            LineCost.Of(Slates, Rates with { Machines = [new("oven", Eur(-1)), new("press", Eur(0))] }).Refusals[0].Code
        );
    }

    [Fact]
    public void Of_OtherCurrency_IsRefused() =>
        Assert.Equal("currency-mixed", Assert.Single(LineCost.Of(Slates with { BlankPerPiece = new(1, "SEK") }, Rates).Refusals).Code);

    [Fact]
    public void On_TwoCards_TheLatestBegunCounts()
    {
        var next = Rates with { Code = "rates-2026-03", ValidFrom = new(2026, 3, 1) };
        Assert.Equal("rates-2026-01", RateCard.On([next, Rates], new(2026, 2, 28)).Value.Code);
        Assert.Equal("rates-2026-03", RateCard.On([next, Rates], new(2026, 3, 1)).Value.Code);
        Assert.Equal("no-rates", RateCard.On([next, Rates], new(2025, 12, 31)).Refusals[0].Code);
    }

    [Fact]
    public void Compare_ActualTookLonger_ShowsWhere()
    {
        var estimate = LineCost.Of(Slates, Rates).Value;
        var actual = LineCost.Of(Slates with { Attended = new(300, 900) }, Rates).Value;
        var differences = EstimateAndActual.Compare(estimate, actual, "EUR").ToDictionary(d => d.Code, d => d.Difference.Amount);
        Assert.Equal(6.00m, differences["labour"]);
        Assert.Equal(0m, differences["blank"]);
        Assert.True(differences["overhead"] > 0);
    }

    private static LineWork Bare(int pieces) => new(pieces, [], null, Eur(0), new(0, 0), [], Eur(0), new(0, Eur(0)));
}
