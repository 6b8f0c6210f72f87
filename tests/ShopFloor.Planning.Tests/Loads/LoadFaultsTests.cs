using ShopFloor.Planning.Layout;
using ShopFloor.Planning.Loads;

namespace ShopFloor.Planning.Tests.Loads;

public sealed class LoadFaultsTests
{
    private static readonly LoadJob Good = new("good", 0, 60, 90, 0, 500, 2, 1, [0]);

    public static TheoryData<LoadJob, string> BadJobs =>
        new()
        {
            { Good with { Id = "bad", MinDwell = 90, MaxDwell = 60 }, "its window from 90 s to 60 s is empty" },
            { Good with { Id = "bad", Size = 99 }, "it is larger than every oven for it" },
            { Good with { Id = "bad", Ovens = [] }, "no oven reaches its temperature" },
            { Good with { Id = "bad", Ovens = [1] }, "the ovens for it have no capacity" },
            { Good with { Id = "bad", Family = 7 }, "its temperature family is unknown" },
            { Good with { Id = "bad", Release = 990 }, "no oven for it is free long enough after its release" },
            { Good with { Id = "bad", Size = -1 }, "its size, weight and release cannot be below zero" },
            { Good, "another piece has the same id" },
        };

    [Theory]
    [MemberData(nameof(BadJobs))]
    public void Plan_JobThatCannotBePlanned_IsNamedWithTheReasonAndTheRestIsPlanned(LoadJob bad, string reason)
    {
        var plan = LoadPlanner.Plan(Problem(Good, bad), new(1, 1000, 1), null, CancellationToken.None);
        var left = Assert.Single(plan.LeftOut);
        Assert.Equal(1, left.Job);
        Assert.Equal($"{bad.Id} cannot be planned, because {reason}.", left.Text);
        Assert.Equal([0], Assert.Single(plan.Loads).Jobs);
    }

    [Fact]
    public void Plan_MoreJobsThanTime_LeavesOutWhatFindsNone()
    {
        var jobs = Enumerable.Range(0, 5).Select(i => Good with { Id = $"j{i}", MinDwell = 400, MaxDwell = 400, Size = 10 }).ToArray();
        var plan = LoadPlanner.Plan(Problem(jobs), new(1, 1000, 1), null, CancellationToken.None);
        Assert.Equal(2, plan.Loads.Count);
        Assert.Equal(3, plan.LeftOut.Count);
        Assert.All(plan.LeftOut, l => Assert.EndsWith("because the ovens for it have no time left.", l.Text, StringComparison.Ordinal));
    }

    [Fact]
    public void Plan_MatrixTooSmall_IsRefused() =>
        Assert.Throws<ArgumentException>(() => LoadPlanner.First(Problem(Good) with { SetupTimes = new int[0, 0] }));

    [Fact]
    public void Plan_Shelves_EveryLoadHasALayoutAndAPieceTooLargeIsNamed()
    {
        var random = new SeededRandom(3);
        var pieces = Enumerable
            .Range(0, 40)
            .Select(i => new Footprint($"j{i:D2}", 40 + random.Next(120), 40 + random.Next(120), 5, true))
            .ToList();
        pieces.Add(new("j99", 390, 390, 5, true));
        var shelves = LayoutTask.Create([new(400, 300, 50), new(400, 300, 20)], new(10, 5), pieces);
        var problem = new LoadProblem(
            [.. pieces.Select((p, i) => new LoadJob(p.Id, 0, 600, 900 + i, 10 * i, 2000, p.Area, 1, [0]))],
            [new("oven", 2L * 400 * 300, 0, [new(0, 100_000)])],
            1,
            new int[1, 1],
            new int[1, 1],
            new(1, 0, 0, 1000, 0, 500),
            () => new ShelfRoom([shelves])
        );
        var plan = LoadPlanner.Plan(problem, new(1, 20_000, 1), null, CancellationToken.None);

        Assert.Equal(40, Assert.Single(plan.LeftOut).Job);
        Assert.Equal(plan.Cost, RandomLoads.CostOf(problem, plan));
        var check = new FitCheck(shelves);
        foreach (var load in plan.Loads)
            Assert.NotNull(check.TryPlace([.. load.Jobs]));
        Assert.Contains(plan.Loads, l => l.Jobs.Count > 5);
    }

    private static LoadProblem Problem(params LoadJob[] jobs) =>
        new(
            jobs,
            [new("oven", 10, 0, [new(0, 1000)]), new("none", 0, 0, [new(0, 1000)])],
            1,
            new int[1, 1],
            new int[1, 1],
            new(4, 1, 0, 100)
        );
}
