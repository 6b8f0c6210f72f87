using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Finished plans as line-ups: their times are what the plan already is or earlier, whatever the moves make of them costs what was
/// summed up and keeps every rule.</summary>
public sealed class LineUpTests
{
    private sealed record Case(string Name, ShopFloor.Planning.Exchange.Day Day, Plan Plan, Workroom Room, LineUpShop At, LineUp Line);

    /// <summary>Days of all sorts, each with a plan of theirs, that can be said as a line-up.</summary>
    private static IEnumerable<Case> Cases()
    {
        for (var seed = 1; seed <= 24; seed++)
        {
            var day = DayMaker.Make(2 + (seed * 7 % 19), (ulong)seed, awkward: seed % 3 == 0);
            var plan = DayPlanner.First(day);
            if (Made($"seed {seed}", day, plan) is { } one)
                yield return one;
            var later = AtWork.Later(day, plan, 1_500 + (400 * seed));
            if (Made($"seed {seed} at work", later, DayPlanner.First(later)) is { } other)
                yield return other;
        }
    }

    private static Case? Made(string name, ShopFloor.Planning.Exchange.Day day, Plan plan)
    {
        var room = new Workroom(day);
        if (!LineUpShop.Suits(room.Shop))
            return null;
        var at = new LineUpShop(room, plan);
        var line = LineUpReader.Read(at, plan);
        Assert.NotNull(line);
        return new Case(name, day, plan, room, at, line);
    }

    [Fact]
    public void Place_LineUpOfAPlan_IsNeverLaterThanThePlan()
    {
        var compared = 0;
        foreach (var c in Cases())
        {
            compared++;
            var times = new LineUpTimes(c.At);
            Assert.True(times.PlaceFirst(c.Line), c.Name);
            foreach (var node in c.Room.Shop.Nodes.Where(n => c.At.IsPlanned[n.Piece]))
            {
                var start = times.Start[c.Line.StartOp(node.Index)];
                Assert.True(
                    start <= c.At.Starts.Start[node.Index],
                    $"{c.Name}: {c.Room.Shop.Pieces[node.Piece].Id} step {node.StepNumber} placed at {start}, planned at {c.At.Starts.Start[node.Index]}"
                );
            }
        }
        Assert.True(compared > 25);
    }

    [Fact]
    public void Write_AfterManyMoves_KeepsEveryRuleAndCostsWhatWasSummed()
    {
        var (written, refused) = (0, 0);
        foreach (var c in Cases())
        {
            var (times, cost, held) = (new LineUpTimes(c.At), new LineUpCost(c.At), new LineUpRoom(c.At, c.Plan));
            Assert.True(times.PlaceFirst(c.Line), c.Name);
            var first = cost.Of(c.Line, times);
            var own = Written(c, c.Line, times);
            var last = Wander(c, times, held, 200);
            Assert.True(times.Place(last), c.Name);
            var points = cost.Of(last, times);
            if (LineUpWriter.Write(c.At, last, times, c.Plan, PartBounds.None) is not { } again)
                continue;
            written++;
            var findings = PlanChecker.Check(c.Day, again, c.Plan.DaySha256);
            refused += findings.Count > 0 ? 1 : 0;
            // A line-up knows neither pins to benches nor when benches and racks cannot be used: such a plan is thrown away.
            Assert.True(
                findings.All(f => f.Rule is "station-down" or "pin-broken"),
                $"{c.Name}: {string.Join("; ", findings.Select(f => f.Rule + " " + f.Text))}"
            );
            if (c.Day.Published is null)
                Assert.Equal(again.Objective.Value - own.Objective.Value, points - first);
        }
        Assert.True(written > 25);
        Assert.True(refused <= 3, $"{refused} of {written} break a rule that a line-up does not know");
    }

    private static Plan Written(Case c, LineUp line, LineUpTimes times)
    {
        var plan = LineUpWriter.Write(c.At, line, times, c.Plan, PartBounds.None);
        Assert.NotNull(plan);
        return plan;
    }

    /// <summary>Takes every move that can be placed.</summary>
    private static LineUp Wander(Case c, LineUpTimes times, LineUpRoom held, int steps)
    {
        var moves = new LineUpMoves(c.At, new SeededRandom(5));
        var (current, trial) = (c.Line, new LineUp(c.At));
        moves.LookAt(times);
        for (var i = 0; i < steps; i++)
        {
            trial.CopyFrom(current);
            if (!moves.Change(trial) || !times.Place(trial) || !held.Holds(trial, times))
                continue;
            (current, trial) = (trial, current);
            moves.LookAt(times);
        }
        return current;
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
