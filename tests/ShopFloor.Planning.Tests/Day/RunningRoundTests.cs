using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;
using ShopFloor.Planning.Tests.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Spray rounds that run at second 0 go on like any other.</summary>
public sealed class RunningRoundTests
{
    private const int ShakenAt = -70;

    /// <summary>P1 is wiped, a round of its coating is shaken; what is sprayed in it already is given.</summary>
    private static ShopFloor.Planning.Exchange.Day Wiped(Func<Piece, Piece> other, params PlanTask[] sprays)
    {
        var day = TwoPlates.Day;
        var shake = new PlanTask(TaskKinds.Shake, "booth-1", "ada", ShakenAt, ShakenAt + 60, Batch: "R1");
        return day with
        {
            Pieces = [day.Pieces[0] with { Done = 2, LastEndS = -20 }, other(day.Pieces[1] with { Pins = [] })],
            Running = new Running([shake, .. sprays], [new Batch("R1", BatchKinds.Round) { Coating = "clear", Can = "can-7" }]),
        };
    }

    [Fact]
    public void First_RoundInWhichSomethingIsSprayed_TakesTheNextPieceToo()
    {
        var spray = new PlanTask(TaskKinds.Spray, "booth-1", "ada", -10, 30, "P2", 3, "R1");
        var day = Wiped(p => p with { Done = 2, LastEndS = -60 }, spray);
        foreach (var rounds in new[] { 0, 1 })
        {
            var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = rounds, Chains = 1 });
            Assert.Empty(plan.LeftOut);
            Assert.Empty(PlanChecker.Check(day, plan));
            Assert.Equal(1, plan.Tasks.Count(t => t.Kind == TaskKinds.Shake));
            Assert.Equal(["P2", "P1"], plan.Tasks.Where(t => t.Kind == TaskKinds.Spray).Select(t => t.Piece));
        }
    }

    /// <summary>A piece whose longest wait leaves no time for a shake of its own was left out.</summary>
    [Fact]
    public void First_PieceThatCannotWaitForAShake_IsSprayedInTheRunningRound()
    {
        var spray = new PlanTask(TaskKinds.Spray, "booth-1", "ada", -10, 30, "P2", 3, "R1");
        var day = Wiped(p => p with { Done = 2, LastEndS = -60 }, spray);
        var first = day.Pieces[0];
        first = first with { Route = [.. first.Route.Select(s => s.Kind == StepKind.Wipe ? s with { MaxWaitS = 55 } : s)] };
        day = day with { Pieces = [first, day.Pieces[1]] };
        var plan = DayPlanner.First(day);
        Assert.Empty(plan.LeftOut);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Equal("R1", plan.Tasks.Single(t => t is { Kind: TaskKinds.Spray, Piece: "P1" }).Batch);
    }

    /// <summary>Whoever was urgent came first, and the round that somebody had shaken stayed without a spray.</summary>
    [Fact]
    public void First_RoundThatIsShaken_GetsASprayBeforeWhatIsMoreUrgent()
    {
        var day = Wiped(p => p with { PromiseS = 60, Weight = 1_000, Done = 0 });
        var calm = day.Pieces[0];
        calm = calm with { Route = [.. calm.Route.Select(s => s.Kind == StepKind.Wipe ? s with { MaxWaitS = 5_000 } : s)] };
        day = day with { Pieces = [calm, day.Pieces[1]] };
        var plan = DayPlanner.First(day);
        Assert.Empty(PlanChecker.Check(day, plan));
        Assert.Contains(plan.Tasks, t => t is { Kind: TaskKinds.Spray, Batch: "R1" });
    }

    [Fact]
    public void Evaluate_RunningRoundWithoutASpray_IsWorseThanAnyWholePlan()
    {
        var day = Wiped(p => p with { Done = 0 });
        var calm = day.Pieces[0];
        calm = calm with { Route = [.. calm.Route.Select(s => s.Kind == StepKind.Wipe ? s with { MaxWaitS = 5_000 } : s)] };
        var room = new Workroom(day with { Pieces = [calm, day.Pieces[1]] });
        var first = room.First(out var cost);
        int[] holds = [.. room.Shop.Nodes.Select(n => n.IsSpray ? 3_000 : 0)];
        var late = room.Evaluate(first with { Holds = holds });
        Assert.True(late - room.Value(first with { Holds = holds }) > 1_000 * cost, $"{late} against {cost}");
    }
}
