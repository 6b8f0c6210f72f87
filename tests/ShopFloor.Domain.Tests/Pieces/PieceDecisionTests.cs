using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Tests.Pieces;

/// <summary>Times outside a step's window must be decided on.</summary>
public sealed class PieceDecisionTests
{
    private static readonly (BatchId?, StationId?, CanId?) Nowhere = default;

    [Fact]
    public void StartOrDecide_FlashTooShort_IsRefusedUntilDecided()
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Spray, 2);
        var next = way.Piece.NextAttended!;
        var tooEarly = way.Now.AddSeconds(-1);
        Assert.Equal("too-early", way.Piece.StartOrDecide(next.Number, tooEarly, Nowhere, null).Refusals[0].Code);
        var decided = way.Piece.StartOrDecide(next.Number, tooEarly, Nowhere, new TimeDecision(TimeChoice.GoOn, "dry to the touch"));
        var started = Assert.IsType<StepStarted>(Assert.Single(decided.Value));
        Assert.Equal("too-early: dry to the touch", started.Decision);
    }

    [Fact]
    public void StartOrDecide_OnTheSecondOfBothEnds_IsInTime()
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Spray, 2);
        var rest = way.Piece.Items.First(i => i.Number == way.Piece.NextAttended!.Number - 1);
        var begun = rest.StartedAt!.Value;
        var step = way.Piece.NextAttended!.Number;
        Assert.True(way.Piece.Start(step, begun.AddSeconds(rest.Settings.MinSeconds)).IsOk);
        Assert.True(way.Piece.Start(step, begun.AddSeconds(rest.Settings.MaxSeconds!.Value)).IsOk);
        Assert.Equal("too-late", way.Piece.Start(step, begun.AddSeconds(rest.Settings.MaxSeconds!.Value + 1)).Refusals[0].Code);
    }

    [Theory]
    [InlineData(TimeChoice.GoOn, PieceState.InWork)]
    [InlineData(TimeChoice.Hold, PieceState.Held)]
    [InlineData(TimeChoice.Test, PieceState.Held)]
    [InlineData(TimeChoice.Rework, PieceState.Reworking)]
    [InlineData(TimeChoice.Spoil, PieceState.Spoiled)]
    public void FinishOrDecide_CureTooLong_EndsTheStepAndDoesWhatWasDecided(TimeChoice choice, PieceState after)
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Cure);
        var cure = way.Piece.NextAttended!;
        way.Happen(PieceOnItsWay.Id(1), way.Piece.Start(cure.Number, way.Now).Value);
        way.Wait(cure.Settings.MaxSeconds!.Value + 60);
        Assert.Equal("too-late", way.Piece.FinishOrDecide(cure.Number, way.Now, null, null).Refusals[0].Code);
        var events = way.Piece.FinishOrDecide(cure.Number, way.Now, null, new TimeDecision(choice, "phone rang", 1));
        Assert.IsType<StepFinished>(events.Value[0]);
        foreach (var happened in events.Value)
            way.Happen(PieceOnItsWay.Id(2), happened);
        Assert.Equal(after, way.Piece.State);
    }

    [Fact]
    public void FinishOrDecide_WithoutReason_IsRefused()
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Cure);
        var cure = way.Piece.NextAttended!;
        way.Happen(PieceOnItsWay.Id(1), way.Piece.Start(cure.Number, way.Now).Value);
        var answer = way.Piece.FinishOrDecide(cure.Number, way.Now, null, new TimeDecision(TimeChoice.GoOn, " "));
        Assert.Equal("reason-missing", answer.Refusals[0].Code);
    }

    [Fact]
    public void Finish_HeldWhileInTheOven_EndsTheStepAndStaysHeld()
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Cure);
        var cure = way.Piece.NextAttended!;
        way.Happen(PieceOnItsWay.Id(1), way.Piece.Start(cure.Number, way.Now).Value);
        way.Happen(PieceOnItsWay.Id(2), way.Piece.Hold("lot barred", way.Now).Value);
        way.Wait(cure.Settings.MinSeconds);
        way.Happen(PieceOnItsWay.Id(3), way.Piece.Finish(cure.Number, way.Now).Value);
        Assert.Equal(PieceState.Held, way.Piece.State);
        Assert.Equal(WorkState.Done, way.Piece.Items.First(i => i.Number == cure.Number).State);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Start_StepAfterARestDoneAgain_IsNotTooLateForARestThatWasInTime(bool rework)
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Spray, 2);
        var spray = way.Piece.NextAttended!.Number;
        var rest = way.Piece.Items.First(i => i.Number == spray - 1);
        Assert.NotNull(rest.Settings.MaxSeconds);
        way.Happen(PieceOnItsWay.Id(1), way.Piece.Start(spray, way.Now).Value);
        way.Happen(
            PieceOnItsWay.Id(2),
            rework ? way.Piece.Rework(spray, "a run", way.Now).Value : way.Piece.BreakOff(spray, "can empty", way.Now).Value
        );
        way.Wait(rest.Settings.MaxSeconds!.Value + 3600);
        Assert.Equal(WorkState.Done, rest.State);
        Assert.True(way.Piece.Start(spray, way.Now).IsOk);
    }

    [Theory]
    [InlineData(PieceState.Spoiled)]
    [InlineData(PieceState.Returned)]
    [InlineData(PieceState.GoingBack)]
    public void End_WhileTheCureRuns_ClosesTheStepAndTakenBackItRunsAgain(PieceState end)
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Cure);
        var cure = way.Piece.NextAttended!.Number;
        way.Happen(PieceOnItsWay.Id(1), way.Piece.Start(cure, way.Now).Value);
        way.Happen(PieceOnItsWay.Id(2), way.Piece.Hold("look at it", way.Now).Value);
        var before = PieceOnItsWay.Facts(way.Piece);
        way.Wait(60);
        var gone = end switch
        {
            PieceState.Spoiled => way.Piece.Spoil("fell", way.Now),
            PieceState.Returned => way.Piece.Return("not wanted", way.Now),
            _ => way.Piece.CallOff("not wanted", way.Now),
        };
        way.Happen(PieceOnItsWay.Id(3), gone.Value);
        Assert.Equal(end, way.Piece.State);
        var item = way.Piece.Items.First(i => i.Number == cure);
        Assert.Equal((WorkState.Failed, way.Now), (item.State, item.FinishedAt));
        Assert.DoesNotContain(way.Piece.Items, i => i.State == WorkState.Running);
        Assert.True(way.Undo());
        Assert.Equal(before, PieceOnItsWay.Facts(way.Piece));
    }

    [Fact]
    public void BreakOff_RunningCure_HasToBeDoneAgain()
    {
        var way = new PieceOnItsWay();
        way.WorkTo(StepKind.Cure);
        var cure = way.Piece.NextAttended!;
        way.Happen(PieceOnItsWay.Id(1), way.Piece.Start(cure.Number, way.Now).Value);
        way.Happen(PieceOnItsWay.Id(2), way.Piece.BreakOff(cure.Number, "power cut", way.Now.AddSeconds(180)).Value);
        Assert.Equal(cure.Number, way.Piece.NextAttended!.Number);
        Assert.Null(way.Piece.NextAttended.StartedAt);
        Assert.Equal(0, way.Piece.Reworks);
    }
}
