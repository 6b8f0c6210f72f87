using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Domain.Tests.Yield;

/// <summary>Each fault counts at the step at which it was seen; a piece counts once in a step, by the worst that happened there.</summary>
public sealed class StepLossesTests
{
    private static readonly DateTimeOffset At = new(2026, 5, 4, 8, 0, 0, TimeSpan.Zero);

    private static readonly PieceBooked Booked = new(
        At,
        "K3F7QX",
        default,
        default,
        1,
        false,
        null,
        [
            new(1, StepKind.Clean),
            new(2, StepKind.Spray) { Coating = CoatingKind.Clear },
            new(3, StepKind.Rest),
            new(4, StepKind.Spray) { Coating = CoatingKind.Clear },
            new(5, StepKind.Cure),
            new(6, StepKind.Inspect),
        ]
    );

    [Fact]
    public void Of_APieceThatCameThrough_IsGoodInEachStepThatWasWorked() =>
        Assert.Equal(
            [(1, 1, StepEnd.Good), (2, 1, StepEnd.Good), (4, 2, StepEnd.Good), (5, 1, StepEnd.Good), (6, 1, StepEnd.Good)],
            Read(Done(1), Done(2), Done(3), Done(4), Done(5), Done(6))
        );

    [Fact]
    public void Of_ReworkedThenLostAtTheSameStep_CountsThereAsLost() =>
        Assert.Equal(
            [(1, 1, StepEnd.Good), (2, 1, StepEnd.Lost)],
            Read(Done(1), Done(2), Fault(2), new ReworkBegun(At, 1, "run"), Done(1), Done(2), Fault(2), new PieceSpoiled(At, "run"))
        );

    [Fact]
    public void Of_FaultSeenAtAStepNotYetBegun_CountsThere() =>
        Assert.Equal(
            [(1, 1, StepEnd.Good), (2, 1, StepEnd.Good), (4, 2, StepEnd.Reworked)],
            Read(Done(1), Done(2), Fault(4), new ReworkBegun(At, 2, "fisheye"))
        );

    [Fact]
    public void Of_FaultSeenWhileItWaits_CountsAtTheStepThatItWaitsFor() =>
        Assert.Equal(
            [(1, 1, StepEnd.Good), (2, 1, StepEnd.Good), (4, 2, StepEnd.Lost)],
            Read(Done(1), Done(2), Fault(3), new PieceSpoiled(At, "run"))
        );

    [Fact]
    public void Of_LostWithoutAFaultNamed_CountsAtTheStepItWasLastIn() =>
        Assert.Equal(
            [(1, 1, StepEnd.Good), (2, 1, StepEnd.Lost)],
            Read(Done(1), new StepStarted(At, 2, null, null, null, null), new PieceSpoiled(At, "dropped"))
        );

    [Fact]
    public void Of_FaultThatWasLivedWith_IsNotTakenForTheOneThatCameLater() =>
        Assert.Equal(
            [(1, 1, StepEnd.Good), (2, 1, StepEnd.Good), (4, 2, StepEnd.Lost)],
            Read(Done(1), Done(2), Fault(2), new StepStarted(At, 4, null, null, null, null), new PieceSpoiled(At, "dropped"))
        );

    private static StepFinished Done(int step) => new(At, step, null, null);

    private static FaultFound Fault(int step) => new(At, step, "run", "");

    private static IEnumerable<(int Number, int Nth, StepEnd End)> Read(params PieceEvent[] events) =>
        StepLosses.Of([Booked, .. events]).OrderBy(s => s.Key.Number).Select(s => (s.Key.Number, s.Key.Nth, s.Value));
}
