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
                    Assert.True(ProcessYield.AtLeast(good, start, yield) >= certainty - 1e-12);
                    Assert.True(start == good || ProcessYield.AtLeast(good, start - 1, yield) < certainty);
                },
                iter: 500
            );

    [Theory]
    [InlineData(3000, 0.05, 0.95)]
    [InlineData(10_000, 0.11, 0.95)]
    [InlineData(10_000, 0.99, 0.9999)]
    [InlineData(4_900, 0.05, 0.5)]
    public void BlanksToStart_Thousands_IsTheSmallestThatSuffices(int good, double yield, double certainty)
    {
        var start = ProcessYield.BlanksToStart(good, yield, certainty).Value.Value;

        Assert.True(AddedUp(good, start, yield) >= certainty);
        Assert.True(AddedUp(good, start - 1, yield) < certainty);
    }

    [Fact]
    public void BlanksToStart_MoreThanCanBeStarted_IsRefused() =>
        Assert.Equal("too-many-blanks", Assert.Single(ProcessYield.BlanksToStart(10_000, 0.05).Refusals).Code);

    [Fact]
    public void BlanksToStart_CertaintyThatIsJustReached_IsEnough()
    {
        Assert.Equal(1, ProcessYield.BlanksToStart(1, 0.95, 0.95).Value.Value);
        Assert.Equal(1, ProcessYield.BlanksToStart(1, 0.7, 0.7).Value.Value);
        Assert.Equal(3, ProcessYield.BlanksToStart(2, 0.5, 0.5).Value.Value);
    }

    [Fact]
    public void AtLeast_AnyNumbers_IsTheSumOfItsTerms() =>
        Gen.Select(Gen.Int[1, 400], Gen.Int[0, 400], Gen.Double[0.05, 0.99])
            .Sample(
                (started, good, yield) =>
                    Assert.Equal(
                        AddedUp(Math.Min(good, started), started, yield),
                        ProcessYield.AtLeast(Math.Min(good, started), started, yield),
                        1e-11
                    )
            );

    [Fact]
    public void Smallest_WideEnds_AsksAFewTimes()
    {
        foreach (var (near, answer) in new[] { (60_000, 61_000), (60_000, 59_990), (1, 99_999), (100_000, 2), (50, 50), (7, 100_001) })
        {
            var asked = 0;
            var found = Smallest.From(
                1,
                100_000,
                near,
                n =>
                {
                    asked++;
                    return n >= answer;
                }
            );
            Assert.Equal(answer <= 100_000 ? answer : (int?)null, found);
            Assert.InRange(asked, 1, 40);
        }
    }

    [Fact]
    public void Smallest_AnyGuess_IsTheFirstThatDoes() =>
        Gen.Select(Gen.Int[1, 50], Gen.Int[0, 60], Gen.Int[1, 60], Gen.Int[-5, 70])
            .Sample(
                (least, more, answer, near) =>
                    Assert.Equal(
                        Enumerable.Range(least, more + 1).Where(n => n >= answer).Select(n => (int?)n).FirstOrDefault(),
                        Smallest.From(least, least + more, near, n => n >= answer)
                    )
            );

    // Every chance by itself, from that of losing none up.
    private static double AddedUp(int good, int started, double yield)
    {
        var (sum, logTerm) = (0.0, started * Math.Log(yield));
        for (var lost = 0; lost <= started - good; lost++)
        {
            sum += Math.Exp(logTerm);
            logTerm += Math.Log((started - lost) / (lost + 1.0)) + Math.Log((1 - yield) / yield);
        }
        return sum;
    }

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
