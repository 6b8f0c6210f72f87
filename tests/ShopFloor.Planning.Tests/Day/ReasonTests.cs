using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

public sealed class ReasonTests
{
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void First_RandomDay_SaysForEveryStepAndBatchWhatHeldIt(bool awkward)
    {
        for (var seed = 1UL; seed <= 15; seed++)
        {
            var day = DayMaker.Make(6 + (int)seed, seed, awkward);
            var plan = DayPlanner.First(day);
            var told = plan.Why.Select(w => (w.Piece, w.Step, w.Batch)).ToHashSet();
            Assert.Equal(plan.Why.Count, told.Count);
            foreach (var task in plan.Tasks.Where(t => t.Piece is not null))
                Assert.Contains((task.Piece, task.Step, (string?)null), told);
            foreach (var batch in plan.Batches.Where(b => b.Kind != BatchKinds.Round))
                Assert.Contains(((string?)null, (int?)null, batch.Id), told);
        }
    }

    [Fact]
    public void First_DayWithoutACoatingThatARouteAsksFor_LeavesItsPiecesOutAndSaysWhy()
    {
        var day = DayMaker.Make(12, 3);
        var spray = day.Pieces.SelectMany(p => p.Route).First(s => s.Kind == StepKind.Spray);
        var without = day with { Coatings = [.. day.Coatings.Where(c => c.Id != spray.Coating)] };
        var need = without.Pieces.Where(p => p.Route.Any(s => s.Kind == StepKind.Spray && s.Coating == spray.Coating)).Select(p => p.Id);
        var left = DayPlanner.First(without).LeftOut.Where(l => l.Reason == "no coating").ToList();
        Assert.Equal(need.Order(StringComparer.Ordinal), left.Select(l => l.Piece).Order(StringComparer.Ordinal));
        Assert.All(left, l => Assert.EndsWith("needs; the fullest has 0 ml.", l.Text, StringComparison.Ordinal));
        Assert.All(left, l => Assert.Contains($"No can of {spray.Coating}", l.Text, StringComparison.Ordinal));
        Assert.All(left, l => Assert.Equal(spray.Coating, l.Coating));
        var read = PlanReader.Read(PlanWriter.Write(DayPlanner.First(without)), "plan").Value.LeftOut;
        Assert.Equal(left, read.Where(l => l.Reason == "no coating"));

        var promise = Promises.Prepare(without with { Pieces = [] }, DayPlanner.First(without with { Pieces = [] }));
        var asked = without.Pieces.First(p => p.Id == left[0].Piece) with { Done = 0 };
        Assert.Null(
            Assert
                .Single(
                    promise.Ask([
                        [asked],
                    ])
                )
                .EndS
        );
    }

    [Fact]
    public void First_RandomDay_NamesPeopleAndStepsThatWereReallyBusyUntilThen()
    {
        var (byPerson, byStep) = (0, 0);
        for (var seed = 1UL; seed <= 15; seed++)
        {
            var day = DayMaker.Make(6 + (int)seed, seed);
            var plan = DayPlanner.First(day);
            var tasks = plan.Tasks.Where(t => t.Piece is not null).ToDictionary(t => (t.Piece, t.Step));
            foreach (var why in plan.Why.Where(w => w.Piece is not null))
            {
                var task = tasks[(why.Piece, why.Step)];
                var start = ShakeBefore(plan, task) ?? task.StartS;
                if (why.HeldBy == "person")
                {
                    byPerson++;
                    Assert.True(IsBusy(day, plan, why.Name!, start - 1), $"{seed}: {why}");
                }
                else if (why is { HeldBy: "previous step", Name: null })
                {
                    byStep++;
                    Assert.Equal(task.StartS, EndBefore(plan, tasks, why));
                }
            }
        }
        Assert.True(byPerson > 100 && byStep > 100, $"{byPerson} by person, {byStep} by step");
    }

    /// <summary>Whoever is named was busy or away the second before, and nobody else who can do it had time for it.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Plan_RandomDay_NamesAPersonOnlyWhereNobodyElseHadTime(int rounds)
    {
        var (named, options) = (0, new PlanOptions { Rounds = rounds, Chains = 1 });
        for (var seed = 1UL; seed <= 6; seed++)
        {
            var day = DayMaker.Make(14 + (int)seed, seed, seed % 2 == 0);
            foreach (var some in new[] { day, AtWork.Later(day, DayPlanner.First(day), 7_000) })
            {
                var plan = DayPlanner.Plan(some, options);
                var tasks = plan.Tasks.Where(t => t.Piece is not null).ToDictionary(t => (t.Piece, t.Step));
                foreach (var why in plan.Why.Where(w => w is { HeldBy: "person" }))
                {
                    var task = why.Batch is null ? tasks[(why.Piece, why.Step)] : BeginOf(plan, why.Batch);
                    var start = ShakeBefore(plan, task) ?? task.StartS;
                    Assert.False(IsFree(some, plan, why.Name!, start - 1, start), $"{seed}: {why} was idle");
                    if (task.Kind is TaskKinds.Spray or TaskKinds.Load)
                        continue;
                    named++;
                    var kind = some.Stations.First(s => s.Id == task.Station).Kind;
                    foreach (var other in some.People.Where(p => p.Id != why.Name && p.Can.Contains(kind)))
                        Assert.False(IsFree(some, plan, other.Id, start - 1, task.EndS!.Value - 1), $"{seed}: {why}, but {other.Id}");
                }
            }
        }
        Assert.True(named > 100, $"{named} named");
    }

    private static PlanTask BeginOf(Plan plan, string batch) =>
        plan.Tasks.First(t => t.Batch == batch && t.Kind is TaskKinds.Load or TaskKinds.Press);

    private static bool IsFree(ShopFloor.Planning.Exchange.Day day, Plan plan, string person, int from, int to) =>
        plan.Tasks.All(t => t.Person != person || t.EndS <= from || to <= t.StartS)
        && day.People.First(p => p.Id == person).Shifts.Any(s => s.FromS <= from && to <= s.NormalToS);

    private static int? ShakeBefore(Plan plan, PlanTask spray) =>
        spray.Kind == TaskKinds.Spray
            ? plan.Tasks.FirstOrDefault(t => t.Batch == spray.Batch && t.Kind == TaskKinds.Shake && t.EndS == spray.StartS)?.StartS
            : null;

    private static bool IsBusy(ShopFloor.Planning.Exchange.Day day, Plan plan, string person, int at) =>
        plan.Tasks.Any(t => t.Person == person && t.StartS <= at && at < t.EndS)
        || !day.People.First(p => p.Id == person).Shifts.Any(s => s.FromS <= at && at < s.NormalToS);

    private static int? EndBefore(Plan plan, Dictionary<(string? Piece, int? Step), PlanTask> tasks, Why why)
    {
        if (tasks.TryGetValue((why.Piece, why.Step - 1), out var before))
            return before.EndS;
        var batch = plan.Batches.First(b => b.Places.Any(p => p.Piece == why.Piece && p.Step == why.Step - 1));
        return plan.Tasks.Where(t => t.Batch == batch.Id).Max(t => t.EndS);
    }

    [Fact]
    public void Plan_OfNoRounds_SaysWhatWouldHelpOnASmallDay()
    {
        var day = DayMaker.Make(20, 2);
        day = day with { Pieces = [.. day.Pieces.Select(p => p with { PromiseS = 5_000 })] };
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = 0, Chains = 1 });
        var ends = PlanEnds.Of(plan);
        Assert.Equal(day.Pieces.Count(p => ends[p.Id] > p.PromiseS), plan.Why.Count(w => w.Helps is not null));
        Assert.Contains(plan.Why, w => w.Helps is not (null or "nothing that was tried"));
        // What it takes is spared where only times are asked for.
        Assert.DoesNotContain(DayPlanner.First(day).Why, w => w.Helps is not null);
    }

    [Fact]
    public void Plan_LatePieces_SaysWhatWouldHelpBecauseItTriedIt()
    {
        var day = DayMaker.Make(24, 2);
        // All transfers lie ready, so that what is late is late for want of hands and stations.
        static Step Ready(Step s) => s.Kind == StepKind.Tape ? s with { ReadyS = 0 } : s;
        day = day with { Pieces = [.. day.Pieces.Select(p => p with { PromiseS = 5_000, Route = [.. p.Route.Select(Ready)] })] };
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = 1, Chains = 1 });
        var ends = PlanEnds.Of(plan);
        foreach (var piece in day.Pieces)
        {
            var helps = plan.Why.Where(w => w.Piece == piece.Id && w.Helps is not null).ToList();
            Assert.Equal(ends[piece.Id] > piece.PromiseS ? 1 : 0, helps.Count);
        }
        var told = plan.Why.Select(w => w.Helps).OfType<string>().Distinct().ToList();
        Assert.True(told.Exists(t => t != "nothing that was tried"), string.Join(" | ", told));
    }
}
