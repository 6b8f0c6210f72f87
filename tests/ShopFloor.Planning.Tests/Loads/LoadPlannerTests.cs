using ShopFloor.Planning.Loads;

namespace ShopFloor.Planning.Tests.Loads;

public sealed class LoadPlannerTests
{
    private static readonly LoadEffort Short = new(1, 20_000);

    private static LoadPlan Plan(LoadProblem problem, LoadEffort? effort = null) =>
        LoadPlanner.Plan(problem, effort ?? Short, null, CancellationToken.None);

    [Theory]
    [InlineData(1, 30, 0)]
    [InlineData(2, 60, 0)]
    [InlineData(3, 40, 2)]
    [InlineData(4, 80, 1)]
    public void Plan_SeededProblems_EveryRuleKeptAndCostAsRecomputed(ulong seed, int jobs, int lateness)
    {
        var problem = RandomLoads.Make(new SeededRandom(seed), jobs, 3, 3, 10, lateness);
        var first = LoadPlanner.First(problem);
        var plan = Plan(problem);

        Assert.Equal(first.Cost, RandomLoads.CostOf(problem, first));
        Assert.Equal(plan.Cost, RandomLoads.CostOf(problem, plan));
        Assert.InRange(plan.Cost, plan.Bound, first.Cost);
        Assert.Empty(plan.LeftOut);
    }

    [Theory]
    [InlineData(1, 0)]
    [InlineData(2, 0)]
    [InlineData(1, 1)]
    [InlineData(2, 1)]
    public void Run_AnnealedState_IncrementalCostEqualsCostFromNothing(ulong seed, int lateness)
    {
        var problem = RandomLoads.Make(new SeededRandom(seed), 40, 3, 3, 10, lateness);
        var model = new LoadModel(problem, [.. Enumerable.Range(0, 40)]);
        var start = new LoadState(model);
        for (var j = 0; j < 40; j++)
            Assert.True(start.Insert(j, true));
        Assert.Equal(start.Recount(), start.Cost);
        for (var chain = 0; chain < 20; chain++)
        {
            var annealing = new LoadAnnealing(model, start, (ulong)chain) { HasRamp = chain % 2 == 1 };
            // Ended while late jobs are priced on a ramp, and after.
            annealing.Run(0, 768, 2000, 200, 1, CancellationToken.None);
            Assert.Equal(annealing.Best.Recount(), annealing.Best.Cost);
            annealing.Run(768, 2000, 2000, 200, 1, CancellationToken.None);
            Assert.Equal(annealing.Best.Recount(), annealing.Best.Cost);
        }
    }

    [Fact]
    public void Ramp_PutOnAndTakenOff_LateJobsCostLessTheLongerItIsAndAfterwardsWhatTheyDid()
    {
        var problem = RandomLoads.Make(new SeededRandom(5), 60, 3, 2, 10);
        var state = new LoadState(new LoadModel(problem, [.. Enumerable.Range(0, 60)]));
        for (var j = 0; j < 60; j++)
            Assert.True(state.Insert(j, true));
        var (before, costs) = (state.Cost, new List<long>());
        foreach (var ramp in new[] { 1, 10, 100, 1000 })
        {
            state.Ramp = ramp;
            costs.Add(state.Cost);
        }
        state.Ramp = 0;

        Assert.Equal(before, costs[0]);
        Assert.Equal(costs.OrderDescending(), costs);
        Assert.True(costs[^1] < before);
        Assert.Equal(before, state.Cost);
    }

    [Theory]
    [InlineData(31)]
    [InlineData(32)]
    [InlineData(33)]
    public void Plan_SmallProblems_FindsTheOptimumAndBoundNeverAboveIt(ulong seed)
    {
        var random = new SeededRandom(seed);
        for (var trial = 0; trial < 12; trial++)
        {
            var problem = RandomLoads.Make(random, 5, 2, 2, 6, trial % 2);
            var plan = Plan(problem, new(1, 60_000, 2));
            var least = RandomLoads.LeastByTrying(problem);
            Assert.Equal(least, plan.Cost);
            Assert.True(plan.Bound <= least, $"trial {trial}: bound {plan.Bound} above {least}");
        }
    }

    [Theory]
    [InlineData(41)]
    [InlineData(42)]
    public void Search_SmallProblems_ProvesTheOptimumFromABadStart(ulong seed)
    {
        var random = new SeededRandom(seed);
        for (var trial = 0; trial < 4; trial++)
        {
            var problem = RandomLoads.Make(random, 5, 2, 2, 6, trial % 2);
            var proof = LoadProof.Search(problem, LoadPlanner.First(problem), 30, 1, CancellationToken.None);
            Assert.True(proof.Proven);
            Assert.Equal(RandomLoads.LeastByTrying(problem), proof.Plan.Cost);
            Assert.Equal(proof.Plan.Cost, RandomLoads.CostOf(problem, proof.Plan));
        }
    }

    [Fact]
    public void Search_MoreCapacityOrOneMoreOvenTime_NeverMakesTheProvenOptimumWorse()
    {
        var random = new SeededRandom(51);
        for (var trial = 0; trial < 6; trial++)
        {
            var problem = RandomLoads.Make(random, 6, 2, 2, 6);
            var wider = problem with { Ovens = [.. problem.Ovens.Select(o => o with { Capacity = o.Capacity + 2 })] };
            var longer = problem with { Ovens = [.. problem.Ovens.Select(o => o with { Available = [new(0, o.Available[^1].To)] })] };
            var optimum = Proven(problem);
            Assert.True(Proven(wider) <= optimum);
            Assert.True(Proven(longer) <= optimum);
        }

        static long Proven(LoadProblem p)
        {
            var proof = LoadProof.Search(p, LoadPlanner.First(p), 30, 1, CancellationToken.None);
            Assert.True(proof.Proven);
            return proof.Plan.Cost;
        }
    }

    [Fact]
    public void Plan_SameSeedAndSteps_SamePlanWhateverTheOrderOfTheInput()
    {
        var problem = RandomLoads.Make(new SeededRandom(7), 50, 3, 3);
        var reversed = problem with { Jobs = [.. problem.Jobs.Reverse()] };
        var plan = Print(problem, Plan(problem));

        Assert.Equal(plan, Print(problem, Plan(problem)));
        Assert.Equal(plan, Print(reversed, Plan(reversed)));

        static string Print(LoadProblem p, LoadPlan plan) =>
            string.Join(
                '\n',
                plan.Loads.Select(l =>
                    $"{l.Oven} {l.Start} {l.End} {string.Join(',', l.Jobs.Select(j => p.Jobs[j].Id).Order(StringComparer.Ordinal))}"
                )
            );
    }

    [Fact]
    public void Plan_Windows_NeverWorseAndEveryRuleKept()
    {
        var problem = RandomLoads.Make(new SeededRandom(9), 40, 2, 2);
        var rough = LoadPlanner.First(problem);
        var polished = Plan(problem, new(1, 0, 1, 1, 8));
        Assert.Equal(polished.Cost, RandomLoads.CostOf(problem, polished));
        Assert.Equal(polished.Cost, Plan(problem, new(1, 0, 1, 1, 8)).Cost);
        Assert.True(polished.Cost < rough.Cost, $"{polished.Cost} is not below {rough.Cost}");
    }

    [Fact]
    public void Plan_Cancelled_ReturnsThePlanOfTheLastFinishedRound()
    {
        var problem = RandomLoads.Make(new SeededRandom(10), 40, 2, 2);
        using var source = new CancellationTokenSource();
        LoadProgress last = default;
        var plan = LoadPlanner.Plan(
            problem,
            new(1, 40_000),
            p =>
            {
                last = p;
                if (p.Round == 3)
                    source.Cancel();
            },
            source.Token
        );
        Assert.Equal(3, last.Round);
        Assert.Equal(last.Cost, plan.Cost);
        Assert.Equal(plan.Cost, RandomLoads.CostOf(problem, plan));
    }
}
