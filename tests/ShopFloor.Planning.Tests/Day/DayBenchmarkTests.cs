using ShopFloor.Benchmarks.Days;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>What the planner is measured against must itself be right.</summary>
public sealed class DayBenchmarkTests
{
    [Fact]
    public void ByHand_RandomDays_BreaksNoRuleAndKeepsOrdersApart()
    {
        for (var seed = 1; seed <= 6; seed++)
        {
            var day = DayMaker.Make(15, (ulong)seed);
            var plan = DayByHand.ByHand(day);
            var order = day.Pieces.ToDictionary(p => p.Id, p => p.Order, StringComparer.Ordinal);
            Assert.Empty(PlanChecker.Check(day, plan));
            Assert.All(plan.Batches.Where(b => b.Places.Count > 0), b => Assert.Single(b.Places.Select(p => order[p.Piece]).Distinct()));
        }
    }

    [Fact]
    public void TinyModel_TwoPieces_ItsPlanPassesTheCheckerAndNoPlanIsBelowItsBound()
    {
        for (var seed = 1; seed <= 3; seed++)
        {
            var day = DayMaker.Make(2, (ulong)seed);
            var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = 2, Chains = 1 });
            var answer = new TinyModel(day, (int)plan.Objective.Value).Solve(300, 1, plan.Objective.Value);
            Assert.NotNull(answer.Plan);
            Assert.DoesNotContain(PlanChecker.Check(day, answer.Plan), f => f.Rule != "objective-wrong");
            var value = ObjectiveRules.Amounts(new Sheet(day, answer.Plan)).Zip(ObjectiveRules.Weights(day.Weights), (a, w) => a * w).Sum();
            Assert.Equal(answer.Value, value);
            Assert.InRange(plan.Objective.Value, answer.Bound, double.MaxValue);
        }
    }

    [Fact]
    public void Simulation_NothingVariesAndNothingFails_EveryPromiseIsKeptByTheFirstPlan()
    {
        var made = DayMaker.Make(10, 3);
        var plan = DayPlanner.First(made);
        var ends = plan
            .Tasks.Where(t => t.Piece is not null)
            .GroupBy(t => t.Piece!)
            .ToDictionary(g => g.Key, g => g.Max(t => t.EndS!.Value));
        var day = made with { Pieces = [.. made.Pieces.Select(p => p with { PromiseS = ends[p.Id] })] };
        var result = new Simulation(day, DayPlanner.First(day), 1, 0, 0).Run();
        Assert.Equal((result.Orders, 0, 0, 0), (result.Kept, result.Faults, result.Unwarned, result.Stuck));
    }

    [Fact]
    public void Simulation_EveryInspectionFails_FinishesNothingInTime()
    {
        var day = DayMaker.Make(3, 2);
        var result = new Simulation(day, null, 1, 0, 1).Run();
        Assert.Equal((0, result.Orders), (result.Kept, result.Stuck));
        Assert.True(result.Faults > 3);
    }
}
