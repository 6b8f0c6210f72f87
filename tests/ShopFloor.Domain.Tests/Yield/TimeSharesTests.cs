using CsCheck;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Domain.Tests.Yield;

/// <summary>Minutes of hands out of starts and ends; the expected values are worked by hand.</summary>
public sealed class TimeSharesTests
{
    private static readonly DateTimeOffset Nine = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);
    private static readonly BatchId Round = new(new Guid("0199aaaa-0000-7000-8000-000000000001"));

    [Fact]
    public void Hands_ARoundOfTwelveInEightMinutes_IsFortySecondsEach()
    {
        var runs = Enumerable.Range(0, 12).Select(_ => Run(StepKind.Spray, 0, 8, CoatingKind.Clear, Round));
        Assert.All(Hands(runs), minutes => Assert.Equal(40, minutes * 60, 9));
    }

    // By hand: 8 min for 8 pieces, then 6 min more for 4.
    [Fact]
    public void Hands_ATrayThatEndsInTwoParts_CountsNoMinuteTwice()
    {
        var runs = Enumerable.Repeat(Run(StepKind.Wipe, 0, 8), 8).Concat(Enumerable.Repeat(Run(StepKind.Wipe, 0, 14), 4));
        Assert.Equal([.. Enumerable.Repeat(1.0, 8), .. Enumerable.Repeat(1.5, 4)], Hands(runs));
    }

    [Fact]
    public void Hands_OvenRestAndAnEndWithoutABeginning_SayNothing() =>
        Assert.Empty(Hands([Run(StepKind.Cure, 0, 15), Run(StepKind.Rest, 0, 10), Run(StepKind.Press, 0, 1), Run(StepKind.Clean, 3, 3)]));

    [Fact]
    public void Hands_TwoCoatingsBegunAtOnce_AreMeasuredApart() =>
        Assert.Equal([2.0, 3.0], Hands([Run(StepKind.Spray, 0, 2, CoatingKind.Clear), Run(StepKind.Spray, 0, 3, CoatingKind.WhiteBase)]));

    // What nobody attends goes on for all at once: the one taken out later waited its whole time.
    [Fact]
    public void Of_RestsBegunTogetherAndEndedApart_EachKeepsItsOwnTime() =>
        Assert.Equal(
            [600m, 900m],
            TimeShares.Of([Run(StepKind.Rest, 0, 10), Run(StepKind.Rest, 0, 15)], _ => default).Select(s => s.Seconds)
        );

    // Law: the parts of pieces that began together add up to the time from the beginning to the last end, in whatever order they come.
    [Fact]
    public void Of_AnyEndsOfOneBeginning_AddUpToTheWholeTime() =>
        Gen.Int[1, 90]
            .Array[1, 30]
            .Sample(ends =>
            {
                var runs = ends.Select(e => Run(StepKind.Tape, 0, e)).ToList();
                Assert.Equal(ends.Max(), Hands(runs).Sum(), 6);
                Assert.Equal(Hands(runs), Hands(Enumerable.Reverse(runs)).Reverse());
            });

    private static IReadOnlyList<double> Hands(IEnumerable<StepRun> runs) =>
        TimeShares.Hands(TimeShares.Of([.. runs], _ => new BatchShare(12, 0)));

    private static StepRun Run(StepKind kind, int from, int until, CoatingKind? coating = null, BatchId? batch = null) =>
        new(default, new RecipeStep(1, kind) { Coating = coating }, Nine.AddMinutes(from), Nine.AddMinutes(until), batch);
}
