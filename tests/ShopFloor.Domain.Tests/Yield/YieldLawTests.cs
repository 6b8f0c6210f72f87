using CsCheck;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Domain.Tests.Yield;

public sealed class YieldLawTests
{
    [Fact]
    public void Likely_AnyCount_HoldsTheShareAndStaysInsideZeroToOne() =>
        Gen.Select(Gen.Int[0, 500], Gen.Int[1, 500])
            .Sample(
                (first, second) =>
                {
                    var (good, total) = (Math.Min(first, second), Math.Max(first, second));
                    var share = RejectRate.Likely(good, total).Value.Value;
                    Assert.True(share.Low <= good / (double)total && good / (double)total <= share.High);
                    Assert.True(share is { Low: >= 0, High: <= 1 });
                    // Good and bad are two sides of the same count.
                    var bad = RejectRate.Likely(total - good, total).Value.Value;
                    Assert.Equal(share.Low, 1 - bad.High, 1e-12);
                }
            );

    [Fact]
    public void Likely_TenTimesTheCount_IsNarrower()
    {
        var few = RejectRate.Likely(34, 40).Value.Value;
        var many = RejectRate.Likely(340, 400).Value.Value;
        Assert.True(many.High - many.Low < few.High - few.Low);
        Assert.Equal("34 of 40 good, likely 71–93 %", few.InWords);
    }

    [Fact]
    public void Likely_NothingCounted_IsTheWholeRange() => Assert.Equal(new LikelyShare(0, 0, 0, 1), RejectRate.Likely(0, 0).Value.Value);

    [Theory]
    [InlineData(5, 4)]
    [InlineData(-1, 4)]
    public void Estimate_ImpossibleCount_IsRefused(int rejects, int pieces) =>
        Assert.Equal("rejects", RejectRate.Estimate(rejects, pieces).Refusals[0].Field);

    [Fact]
    public void BlanksToStart_AnyYield_IsTheSmallestThatSuffices() =>
        Gen.Select(Gen.Int[1, 60], Gen.Double[0.3, 1], Gen.Double[0.6, 0.99])
            .Sample(
                (good, yield, certainty) =>
                {
                    var start = ProcessYield.BlanksToStart(good, yield, certainty).Value.Value;
                    Assert.True(ProcessYield.AtLeast(good, start, yield) >= certainty);
                    Assert.True(start == good || ProcessYield.AtLeast(good, start - 1, yield) < certainty);
                },
                iter: 500
            );

    [Fact]
    public void AtLeast_None_IsCertain() =>
        Gen.Select(Gen.Int[1, 60], Gen.Double[0.05, 1]).Sample((n, y) => Assert.Equal(1, ProcessYield.AtLeast(0, n, y), 1e-9));

    [Fact]
    public void Rolled_AddingAStep_NeverRaisesIt() =>
        Gen.Select(Gen.Double[0, 1].Array[1, 8], Gen.Double[0, 1])
            .Sample((steps, more) => ProcessYield.Rolled([.. steps, more]).Value.Value <= ProcessYield.Rolled(steps).Value.Value);

    [Fact]
    public void Rolled_StepOverOne_IsRefused() => Assert.False(ProcessYield.Rolled([0.9, 1.1]).IsOk);

    [Fact]
    public void ExpectedLoss_NothingKnown_IsHalfTheValue() => Assert.Equal(50m, ProcessYield.ExpectedLoss(0, 0, 100m).Value.Value);

    [Fact]
    public void Of_TooFewMeasurements_TheEstimateStands()
    {
        var minutes = MeasuredMinutes.Of([3, 3, 3, 3], 8).Value.Value;
        Assert.Equal(new StepMinutes(8, 0, 0), minutes);
    }

    [Fact]
    public void Of_OneForgottenTimer_DoesNotMoveTheResult()
    {
        var minutes = MeasuredMinutes.Of([5, 5.5, 4.5, 5, 5.2, 480], 8).Value.Value;
        Assert.Equal(5, minutes.LeftOut + 4);
        Assert.Equal(5.04, minutes.Minutes, 1e-9);
    }

    [Fact]
    public void Of_AnyMeasurements_LiesBetweenTheirEnds() =>
        Gen.Double[0, 100]
            .Array[5, 40]
            .Sample(measured =>
            {
                var minutes = MeasuredMinutes.Of(measured, 8).Value.Value;
                Assert.InRange(minutes.Minutes, measured.Min() - 1e-9, measured.Max() + 1e-9);
                Assert.Equal(measured.Length, minutes.Used + minutes.LeftOut);
            });

    [Fact]
    public void Of_NegativeOrNaN_IsRefused() => Assert.False(MeasuredMinutes.Of([1, double.NaN], 8).IsOk);
}
