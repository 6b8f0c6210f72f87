using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Something happens in the middle of a day: the new plan breaks no rule and leaves what runs alone.</summary>
public sealed class ReplanTests
{
    private static readonly Dictionary<string, Func<ShopFloor.Planning.Exchange.Day, int, ShopFloor.Planning.Exchange.Day>> Events = new()
    {
        ["nothing"] = (day, _) => day,
        ["spoiled"] = (day, n) => Without(day, AtWork.Idle(day).Skip(n).Take(1)),
        ["held"] = (day, n) => Without(day, AtWork.Idle(day).Skip(n % 3).Take(3)),
        ["rework"] = (day, n) => Again(day, AtWork.Idle(day).Where(p => p.Done > 2).Skip(n % 2).Take(1)),
        ["rush order"] = (day, n) => day with { Pieces = [.. day.Pieces, .. Rush(day, (ulong)n)] },
        ["broken station"] = (day, n) => Broken(day, n),
        ["shift changed"] = (day, n) => day with { People = [.. day.People.Select((p, i) => i == n % day.People.Count ? Gone(p) : p)] },
        ["late"] = (day, _) => day with { Pieces = [.. day.Pieces.Select(p => p with { EarliestS = Math.Max(p.EarliestS, 1_800) })] },
    };

    public static TheoryData<string> Names() => [.. Events.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void First_AfterAnEvent_BreaksNoRuleAndMovesNothingThatRuns(string name)
    {
        var ran = 0;
        for (var seed = 1; seed <= 8; seed++)
        {
            var day = DayMaker.Make(6 + (seed * 3), (ulong)seed);
            var later = Events[name](AtWork.Later(day, DayPlanner.First(day), 700 + (seed * 1_300)), seed);
            ran += later.Running.Tasks.Count;
            Holds(later, DayPlanner.First(later), $"{name}, seed {seed}, first plan");
            if (seed <= 2)
                Holds(later, DayPlanner.Plan(later, new PlanOptions { Rounds = 1, Chains = 1 }), $"{name}, seed {seed}, one round");
        }
        Assert.True(ran > 8, $"only {ran} tasks ran");
    }

    [Fact]
    public void First_NothingHappened_GoesOnFromThePublishedPlanWhereThatIsBetter()
    {
        var better = 0;
        for (var seed = 1; seed <= 4; seed++)
        {
            var day = DayMaker.Make(30, (ulong)seed);
            var later = AtWork.Later(day, DayPlanner.Plan(day, new PlanOptions { Rounds = 4, Chains = 1 }), 3_000);
            var next = Value(later, DayPlanner.First(later));
            var anew = Value(later, DayPlanner.First(later with { Published = null }));
            Assert.True(next <= anew, $"seed {seed}: {next} is above {anew}");
            better += next < anew ? 1 : 0;
        }
        Assert.True(better >= 2, $"only {better} of 4 days go on from the plan that stands");
    }

    private static long Value(ShopFloor.Planning.Exchange.Day day, Plan plan) =>
        ObjectiveRules.Amounts(new Sheet(day, plan)).Zip(ObjectiveRules.Weights(day.Weights), (a, w) => a * w).Sum();

    private static void Holds(ShopFloor.Planning.Exchange.Day day, Plan plan, string where)
    {
        // What is in an oven when it breaks has to come out of it all the same.
        var inside = day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        var findings = PlanChecker.Check(day, plan).Where(f => f.Rule != "station-down" || !f.Batches.All(inside.Contains)).ToList();
        Assert.True(findings.Count == 0, $"{where}: {string.Join("; ", findings.Take(3).Select(f => $"{f.Rule}: {f.Text}"))}");
        foreach (var given in day.Running.Tasks)
        {
            var same = plan.Tasks.SingleOrDefault(t =>
                (t.Kind, t.Station, t.Person, t.StartS, t.Piece, t.Batch)
                == (given.Kind, given.Station, given.Person, given.StartS, given.Piece, given.Batch)
            );
            Assert.True(same is not null && (given.EndS is null || given.EndS == same.EndS), $"{where}: {given} was moved");
        }
    }

    private static ShopFloor.Planning.Exchange.Day Without(ShopFloor.Planning.Exchange.Day day, IEnumerable<Piece> gone)
    {
        var ids = gone.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        return day with
        {
            Pieces = [.. day.Pieces.Where(p => !ids.Contains(p.Id))],
            Published = day.Published! with { Steps = [.. day.Published.Steps.Where(s => !ids.Contains(s.Piece))] },
        };
    }

    private static ShopFloor.Planning.Exchange.Day Again(ShopFloor.Planning.Exchange.Day day, IEnumerable<Piece> faulty)
    {
        var ids = faulty.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        return day with { Pieces = [.. day.Pieces.Select(p => ids.Contains(p.Id) ? p with { Done = 1, LastEndS = 0 } : p)] };
    }

    private static IEnumerable<Piece> Rush(ShopFloor.Planning.Exchange.Day day, ulong seed) =>
        DayMaker
            .Make(3, seed + 50)
            .Pieces.Select((p, i) => p with { Id = $"rush-{i}", Order = "rush", Weight = 4, PromiseS = 10_000, After = [] });

    private static ShopFloor.Planning.Exchange.Day Broken(ShopFloor.Planning.Exchange.Day day, int n)
    {
        StationKind[] kinds = [StationKind.Oven, StationKind.Press, StationKind.Booth, StationKind.Bench];
        var kind = kinds[n % kinds.Length];
        return day with { Stations = [.. day.Stations.Select(s => s.Kind == kind ? s with { Down = [new Span(0, 5_400)] } : s)] };
    }

    // Whoever has a task in hand stays for it; the rules free running tasks of the shift.
    private static Person Gone(Person person) =>
        person with
        {
            Shifts = [.. person.Shifts.Where(s => s.FromS > 3_600).DefaultIfEmpty(person.Shifts[^1])],
        };
}
