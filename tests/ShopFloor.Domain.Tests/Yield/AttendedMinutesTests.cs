using CsCheck;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Domain.Tests.Yield;

/// <summary>Minutes of hands out of starts and ends; the expected values are worked by hand.</summary>
public sealed class AttendedMinutesTests
{
    private static readonly DateTimeOffset Nine = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);
    private static readonly BatchId Round = new(new Guid("0199aaaa-0000-7000-8000-000000000001"));

    [Fact]
    public void Of_ARoundOfTwelveInEightMinutes_IsFortySecondsEach()
    {
        var done = Enumerable.Range(0, 12).Select(_ => Step(StepKind.Spray, 0, 8, CoatingKind.Clear, Round));
        var sample = Assert.Single(AttendedMinutes.Of(done));
        Assert.Equal(40, sample.MinutesEach * 60, 9);
        Assert.Equal(12, sample.Pieces);
    }

    [Fact]
    public void Of_ATrayThatEndsInTwoParts_CountsNoMinuteTwice()
    {
        var done = Enumerable.Repeat(Step(StepKind.Wipe, 0, 8), 8).Concat(Enumerable.Repeat(Step(StepKind.Wipe, 0, 14), 4));
        Assert.Equal([(1.0, 8), (1.5, 4)], AttendedMinutes.Of(done).Select(s => (s.MinutesEach, s.Pieces)));
    }

    [Fact]
    public void Of_OvenRestAndAnEndWithoutABeginning_SayNothing() =>
        Assert.Empty(
            AttendedMinutes.Of([
                Step(StepKind.Cure, 0, 15),
                Step(StepKind.Rest, 0, 10),
                Step(StepKind.Press, 0, 1),
                Step(StepKind.Clean, 3, 3),
            ])
        );

    [Fact]
    public void Of_TwoCoatingsAtOnce_AreMeasuredApart() =>
        Assert.Equal(
            2,
            AttendedMinutes.Of([Step(StepKind.Spray, 0, 2, CoatingKind.Clear), Step(StepKind.Spray, 0, 2, CoatingKind.WhiteBase)]).Count
        );

    // Law: the samples of pieces that began together add up to the time from the beginning to the last end, and order does not matter.
    [Fact]
    public void Of_AnyEndsOfOneBeginning_AddUpToTheWholeTime() =>
        Gen.Int[1, 90]
            .Array[1, 30]
            .Sample(ends =>
            {
                var done = ends.Select(e => Step(StepKind.Tape, 0, e)).ToList();
                var samples = AttendedMinutes.Of(done);
                Assert.Equal(ends.Max(), samples.Sum(s => s.MinutesEach * s.Pieces), 6);
                Assert.Equal(ends.Length, samples.Sum(s => s.Pieces));
                Assert.Equal(samples, AttendedMinutes.Of(Enumerable.Reverse(done)));
            });

    private static DoneStep Step(StepKind kind, int from, int until, CoatingKind? coating = null, BatchId? batch = null) =>
        new(kind, coating, batch, Nine.AddMinutes(from), Nine.AddMinutes(until));
}
