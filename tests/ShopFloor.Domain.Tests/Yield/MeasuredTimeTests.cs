using CsCheck;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Domain.Tests.Yield;

public sealed class MeasuredTimeTests
{
    private static readonly DateTimeOffset At = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);
    private static readonly RecipeStep Wipe = new(1, StepKind.Wipe) { LengthSeconds = 90 };
    private static readonly RecipeStep Cure = new(2, StepKind.Cure) { MinSeconds = 900 };

    [Fact]
    public void Of_UndoneBrokenOffAndReworked_EachRealRunCountsOnce()
    {
        var wrong = new EntryId(Guid.CreateVersion7());
        (EntryId, PieceEvent) E(PieceEvent happened, EntryId? id = null) => (id ?? new EntryId(Guid.CreateVersion7()), happened);
        PieceEvent Start(int step, int second) => new StepStarted(At.AddSeconds(second), step, null, null, null, null);
        PieceEvent End(int step, int second) => new StepFinished(At.AddSeconds(second), step, null, null);
        var counting = StepRuns.Counting([
            E(new PieceBooked(At, "A", default, default, 1, false, null, [Wipe, Cure])),
            E(Start(1, 0)),
            E(End(1, 10), wrong),
            E(new MovesUndone(At.AddSeconds(12), [wrong], "by mistake")),
            E(End(1, 40)),
            E(Start(2, 50)),
            E(new StepBrokenOff(At.AddSeconds(80), 2, "power cut")),
            E(new ReworkBegun(At.AddSeconds(90), 1, "run")),
            E(Start(1, 100)),
            E(End(1, 160)),
        ]);
        var runs = StepRuns.Of(default, counting);
        Assert.Equal([40, 30, 60], runs.Select(r => (r.To - r.From).TotalSeconds));
        Assert.Equal([StepKind.Wipe, StepKind.Cure, StepKind.Wipe], runs.Select(r => r.Step.Kind));
    }

    // However many pieces share a time, together they carry all of it and no more.
    [Fact]
    public void Of_AnyBatchAndAnyTaps_SharesAddUpToTheTimeThatPassed() =>
        Gen.Select(Gen.Int[1, 40], Gen.Int[1, 7200], Gen.Bool)
            .Sample(
                (members, seconds, inBatch) =>
                {
                    BatchId? batch = inBatch ? new BatchId(Guid.CreateVersion7()) : null;
                    var runs = Enumerable
                        .Range(0, members)
                        .Select(_ => new StepRun(new PieceId(Guid.CreateVersion7()), Wipe, At, At.AddSeconds(seconds), batch))
                        .ToList();
                    var shares = TimeShares.Of(runs, _ => new BatchShare(members, 0));
                    Assert.Equal(seconds, shares.Sum(s => s.Seconds), 10);
                    Assert.All(shares, s => Assert.True(s is { IsMeasured: true } && s.WorkSeconds == s.Seconds));
                }
            );

    [Fact]
    public void Of_MembersOfOtherOrders_CarryTheirPartToo()
    {
        var run = new StepRun(default, Cure, At, At.AddSeconds(1200), new BatchId(Guid.CreateVersion7()));
        Assert.Equal(100, Assert.Single(TimeShares.Of([run], _ => new BatchShare(12, 0))).Seconds);
    }

    // By hand: 30, 32, 34, 36, 38 s have the mean 34; a timer left on for an hour is a mishap.
    [Fact]
    public void From_EnoughTimedPieces_ReplacesTheRecipesSeconds()
    {
        var measured = MeasuredShop.From(Shares([30, 32, 34, 36, 38, 3600]), []);
        var step = Assert.Single(measured.Steps);
        Assert.Equal((34m, 5, 1), (step.Seconds, step.Used, step.LeftOut));
        Assert.Equal(34, Assert.Single(measured.Apply(Finish.ShowThrough, [Wipe])).LengthSeconds);
        Assert.Equal(90, Assert.Single(measured.Apply(Finish.VelvetMatt, [Wipe])).LengthSeconds);
    }

    [Fact]
    public void From_TooFewPieces_LeavesTheRecipe() => Assert.Empty(MeasuredShop.From(Shares([30, 32, 34, 36]), []).Steps);

    // Laplace's rule of succession: (1 + 1) ÷ (38 + 2) = 5 %.
    [Theory]
    [InlineData(38, 0.05)]
    [InlineData(19, null)]
    public void Loss_ByTheNumberOfPieces_IsMeasuredOrUnknown(int pieces, double? loss)
    {
        var shop = MeasuredShop.From([], [new MeasuredLoss(Finish.ShowThrough, 1, pieces)]);
        Assert.Equal((decimal?)loss, shop.Loss(Finish.ShowThrough, "al"));
    }

    // Slate 11 of 20 lost, aluminium none of 30, brass none of 5: (11 + 1) ÷ 22, 1 ÷ 32; brass, and what was never made, by all 55: 12 ÷ 57.
    [Fact]
    public void Loss_OnAMaterial_IsItsOwnOnceThereAreEnoughElseThatOfTheFinish()
    {
        static IEnumerable<(Finish, string, bool)> Ended(string material, int pieces, int lost) =>
            Enumerable.Range(0, pieces).Select(i => (Finish.WhiteGround, material, i < lost));
        var shop = MeasuredShop.From([], MeasuredLoss.Of([.. Ended("slate", 20, 11), .. Ended("al", 30, 0), .. Ended("brass", 5, 0)]));
        Assert.Equal(12m / 22, shop.Loss(Finish.WhiteGround, "slate"));
        Assert.Equal(1m / 32, shop.Loss(Finish.WhiteGround, "al"));
        Assert.Equal(12m / 57, shop.Loss(Finish.WhiteGround, "brass"));
        Assert.Equal(12m / 57, shop.Loss(Finish.WhiteGround, "tile"));
        Assert.Null(shop.Loss(Finish.ShowThrough, "slate"));
    }

    /// <summary>What was measured before losses were told by material counts for all of them.</summary>
    [Fact]
    public void Loss_KeptWithoutAMaterial_IsThatOfTheFinish()
    {
        var kept = System.Text.Json.JsonSerializer.Deserialize<MeasuredLoss>("""{"Finish":1,"Lost":1,"Pieces":38}""")!;
        Assert.Equal(0.05m, MeasuredShop.From([], [kept]).Loss(kept.Finish, "slate"));
    }

    private static IEnumerable<(Finish, TimeShare)> Shares(int[] seconds) =>
        seconds.Select(s =>
        {
            var run = new StepRun(default, Wipe, At, At.AddSeconds(s), null);
            return (Finish.ShowThrough, new TimeShare(run, s, s));
        });
}
