using ShopFloor.Planning.Loads;

namespace ShopFloor.Planning.Tests.Loads;

public sealed class LoadsInTimeTests
{
    [Fact]
    public void Of_JobDueBeforeAnyLoadCanEnd_LeavesItOut()
    {
        var problem = Pressed(1, 20);
        var hopeless = problem.Jobs[4] with { Due = problem.Jobs[4].Release + problem.Jobs[4].MinDwell - 1 };
        var part = Part(problem with { Jobs = [.. problem.Jobs.Select((j, at) => at == 4 ? hopeless : j)] })!;

        Assert.DoesNotContain(4, part.Model.JobAt);
        Assert.Equal(problem.Ovens.Count + 1, part.Model.M);
    }

    [Fact]
    public void Of_NothingCanBeInTimeOrSomethingIsNeverLate_IsNoPart()
    {
        var problem = Pressed(2, 20);

        Assert.NotNull(Part(problem));
        Assert.Null(Part(problem with { Jobs = [.. problem.Jobs.Select(j => j with { Due = 0 })] }));
        Assert.Null(Part(problem with { Jobs = [.. problem.Jobs.Select((j, at) => at == 4 ? j with { Due = int.MaxValue } : j)] }));
        Assert.Null(Part(problem with { Room = () => new AnyRoom() }));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void ToWhole_SearchedPart_KeepsEveryRuleAndWhatWasInTime(ulong seed)
    {
        var problem = Pressed(seed, 70);
        var whole = Model(problem);
        var part = LoadsInTime.Of(whole)!;
        var annealing = new LoadAnnealing(part.Model, part.Start(), seed);
        annealing.Run(0, 60_000, 60_000, 2000, 1, CancellationToken.None);

        var state = part.ToWhole(annealing.Best)!;

        var plan = new LoadPlan(state.ToLoads(), state.Cost, 0, []);
        Assert.Equal(state.Cost, RandomLoads.CostOf(problem, plan));
        var lateInPart = Late(problem, annealing.Best.ToLoads());
        Assert.InRange(lateInPart, 1, part.Model.N - 1);
        Assert.True(Late(problem, plan.Loads) <= lateInPart + whole.N - part.Model.N);
    }

    [Fact]
    public void ToWhole_NoTimeForTheLateOnes_IsNull()
    {
        var part = Part(Narrow(70))!;

        Assert.Null(part.ToWhole(part.Start()));
    }

    [Fact]
    public void Plan_NoTimeForTheLateOnesBesideThoseInTime_SearchesTheWholeInTheRoundsLeft()
    {
        var problem = Narrow(150);
        var effort = new LoadEffort(1, 600_000);
        var told = new List<LoadProgress>();

        var plan = LoadPlanner.Plan(problem, effort, told.Add, CancellationToken.None);

        Assert.Equal(plan.Cost, RandomLoads.CostOf(problem, plan));
        Assert.Equal(Enumerable.Range(0, effort.Rounds + 1), told.Select(p => p.Round));
    }

    [Fact]
    public void Plan_LateJobsWeighMost_EveryRuleKeptRoundsToldInOrderAndSamePlanAgain()
    {
        var problem = Pressed(5, 80);
        var effort = new LoadEffort(1, 500_000);
        var told = new List<LoadProgress>();

        var plan = LoadPlanner.Plan(problem, effort, told.Add, CancellationToken.None);

        Assert.Equal(plan.Cost, RandomLoads.CostOf(problem, plan));
        Assert.Equal(Enumerable.Range(0, effort.Rounds + 1), told.Select(p => p.Round));
        Assert.Equal(told.Select(p => p.Cost), told.Select(p => p.Cost).OrderDescending());
        var again = LoadPlanner.Plan(problem, effort, null, CancellationToken.None);
        Assert.Equal(plan.Loads.Select(Print), again.Loads.Select(Print));
        Assert.True(Late(problem, plan.Loads) < Late(problem, LoadPlanner.First(problem).Loads));
    }

    [Fact]
    public void Plan_CancelledWhileLoadsInTimeArePlanned_ReturnsAWholePlan()
    {
        var problem = Pressed(6, 80);
        using var source = new CancellationTokenSource();

        var plan = LoadPlanner.Plan(problem, new(1, 500_000), CancelAtTwo, source.Token);

        Assert.Equal(plan.Cost, RandomLoads.CostOf(problem, plan));
        Assert.True(plan.Cost <= LoadPlanner.First(problem).Cost);

        void CancelAtTwo(LoadProgress progress)
        {
            if (progress.Round == 2)
                source.Cancel();
        }
    }

    // More than two ovens can do in time, and a late job dearer than many loads.
    private static LoadProblem Pressed(ulong seed, int jobs)
    {
        var problem = RandomLoads.Make(new SeededRandom(seed), jobs, 2, 2);
        return problem with { Weights = new(4, 1, 0, 4000) };
    }

    // Ovens that close before all is done.
    private static LoadProblem Narrow(int jobs)
    {
        var problem = Pressed(4, jobs);
        var until = problem.Jobs.Max(j => j.Due) / 2;
        return problem with { Ovens = [.. problem.Ovens.Select(o => o with { Available = [new(0, until)] })] };
    }

    private static LoadModel Model(LoadProblem problem) => new(problem, [.. Enumerable.Range(0, problem.Jobs.Count)]);

    private static LoadsInTime? Part(LoadProblem problem) => LoadsInTime.Of(Model(problem));

    private static int Late(LoadProblem problem, IReadOnlyList<PlannedLoad> loads) =>
        loads.Sum(l => l.Jobs.Count(j => l.End > problem.Jobs[j].Due));

    private static string Print(PlannedLoad load) => $"{load.Oven} {load.Start} {load.End} {string.Join(',', load.Jobs)}";

    private sealed class AnyRoom : LoadRoom
    {
        public override bool Fits(int oven, ReadOnlySpan<int> jobs) => true;
    }
}
