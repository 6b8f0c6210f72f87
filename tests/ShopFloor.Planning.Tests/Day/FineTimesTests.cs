using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Persons and times of a finished plan found anew: the net computes what the plan already is or earlier, its cost is the
/// objective's, and what is written keeps every rule.</summary>
public sealed class FineTimesTests
{
    /// <summary>Days of all sorts, each with a plan of theirs.</summary>
    private static IEnumerable<(string Name, ShopFloor.Planning.Exchange.Day Day, Plan Plan)> Days()
    {
        for (var seed = 1; seed <= 24; seed++)
        {
            var day = DayMaker.Make(2 + (seed * 7 % 19), (ulong)seed, awkward: seed % 3 == 0);
            var plan = DayPlanner.First(day);
            yield return ($"seed {seed}", day, plan);
            var later = AtWork.Later(day, plan, 1_500 + (400 * seed));
            yield return ($"seed {seed} at work", later, DayPlanner.First(later));
        }
    }

    [Fact]
    public void Place_OrderOfAPlan_IsNeverLaterThanThePlan()
    {
        var compared = 0;
        foreach (var (name, day, plan) in Days())
        {
            var room = new Workroom(day);
            if (TimeNetMaker.Make(room.Shop, room.Maker, plan) is not { } fine)
                continue;
            compared++;
            Assert.True(fine.Net.Place(fine.Order), name);
            for (var t = 0; t < fine.Source.Length; t++)
                Assert.True(fine.Net.Start[t] <= fine.Source[t].StartS, $"{name}: {fine.Source[t]} placed at {fine.Net.Start[t]}");
        }
        Assert.True(compared > 25);
    }

    [Fact]
    public void Write_AnyOrder_KeepsEveryRuleAndCostsWhatWasSummed()
    {
        var (written, refused) = (0, 0);
        foreach (var (name, day, plan) in Days())
        {
            var room = new Workroom(day);
            if (TimeNetMaker.Make(room.Shop, room.Maker, plan) is not { } fine)
                continue;
            var cost = new FineCost(room.Shop, fine);
            var held = new FineRoom(room.Shop, fine, plan);
            var moves = new FineMoves(fine.Net, new SeededRandom(5));
            var order = fine.Order;
            for (var i = 0; i < 60; i++)
                if (moves.Change(order) is { } next && fine.Net.Place(next) && held.Holds())
                    order = next;
            var again = Write(room, fine, order, plan);
            var findings = PlanChecker.Check(day, again);
            written++;
            refused += findings.Count > 0 ? 1 : 0;
            Assert.True(
                findings.All(f => f.Rule == "station-down"),
                $"{name}: {string.Join("; ", findings.Select(f => f.Rule + " " + f.Text))}"
            );
            // What does not depend on persons and times is the same in both.
            var own = Write(room, fine, fine.Order, plan);
            Assert.Equal(again.Objective.Value - own.Objective.Value, Points(fine, order, cost) - Points(fine, fine.Order, cost));
        }
        Assert.True(written > 25);
        Assert.True(refused <= 1, $"{refused} of {written} break a rule that the net does not know");
    }

    private static Plan Write(Workroom room, FineNet fine, TimeOrder order, Plan plan)
    {
        Assert.True(fine.Net.Place(order));
        return new FinePlan(room, fine, order, plan).Write(new long[Objective.Names.Count]);
    }

    private static long Points(FineNet fine, TimeOrder order, FineCost cost)
    {
        fine.Net.Place(order);
        return cost.Of(order);
    }

    [Fact]
    public void Plan_SameDayAndSeed_IsTheSamePlanAgain()
    {
        var day = DayMaker.Make(5, 31);
        var options = new PlanOptions { Rounds = 2, Seed = 4 };
        Assert.Equal(PlanWriter.Write(DayPlanner.Plan(day, options)), PlanWriter.Write(DayPlanner.Plan(day, options)));
    }

    [Theory]
    [InlineData(40, 17_844)]
    [InlineData(76, 12_298)]
    public void Plan_DaysWhoseOptimumAsksForOtherHands_ReachesTheOptimumThatAConstraintSolverProves(int seed, long optimum)
    {
        var plan = DayPlanner.Plan(DayMaker.Make(4, (ulong)seed), new PlanOptions { Rounds = 4 });
        Assert.Equal(optimum, plan.Objective.Value);
    }
}
