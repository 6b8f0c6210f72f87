using ShopFloor.Planning.Loads;

namespace ShopFloor.Planning.Tests.Loads;

/// <summary>The thorough bound of oven loads.</summary>
public sealed class LoadCoverTests
{
    private static readonly int[,] None = new int[1, 1];

    /// <summary>Dwell counts one point a second, a load ten, nothing else anything.</summary>
    private static LoadProblem Of(long capacity, params (int Min, int Max, long Size)[] jobs) =>
        new(
            [.. jobs.Select((j, at) => new LoadJob($"j{at}", 0, j.Min, j.Max, 0, 10_000, j.Size, 1, [0]))],
            [new LoadOven("o", capacity, 0, [new(0, 10_000)])],
            1,
            None,
            None,
            new(1, 0, 0, 0, 0, 10)
        );

    private static long Thorough(LoadProblem problem) => LoadBounds.Thorough(problem, CancellationToken.None);

    [Fact]
    public void Thorough_SizesThatCannotShare_CountsALoadEach()
    {
        var problem = Of(5, (4, 9, 3), (4, 9, 3), (4, 9, 3));
        Assert.Equal(2 * 14, LoadBounds.Of(problem));
        Assert.Equal(3 * 14, Thorough(problem));
    }

    [Fact]
    public void Thorough_WindowsThatDoNotMeet_CountsALoadEach()
    {
        var problem = Of(50, (2, 3, 1), (5, 6, 1));
        Assert.Equal(15, LoadBounds.Of(problem));
        Assert.Equal(12 + 15, Thorough(problem));
    }

    [Theory]
    [InlineData(4, 28, 35)]
    [InlineData(5, 30, 38)]
    public void Thorough_FiveThatShareByTwos_CountsTwoLoadsAndAHalfUpwards(int dwell, long quick, long thorough)
    {
        // Any two share a load, no three do; together they would fill two loads to the brim. No plan costs half a point.
        var problem = Of(5, [.. Enumerable.Repeat((dwell, 9, 2L), 5)]);
        Assert.Equal(quick, LoadBounds.Of(problem));
        Assert.Equal(thorough, Thorough(problem));
    }

    [Fact]
    public void Thorough_OvenThatHoldsMore_IsUsedOnlyByWhatMayGoIn()
    {
        var problem = Of(5, (4, 9, 3), (4, 9, 3));
        var larger = problem with { Ovens = [.. problem.Ovens, new LoadOven("large", 10, 0, [new(0, 10_000)])] };
        Assert.Equal(28, Thorough(larger));
        Assert.Equal(14, Thorough(larger with { Jobs = [.. larger.Jobs.Select(j => j with { Ovens = [0, 1] })] }));
    }

    [Theory]
    [InlineData(61)]
    [InlineData(62)]
    [InlineData(63)]
    public void Thorough_SmallProblems_IsNeverAboveTheOptimumNorBelowTheQuickBound(ulong seed)
    {
        var random = new SeededRandom(seed);
        for (var trial = 0; trial < 12; trial++)
        {
            var problem = RandomLoads.Make(random, 5, 2, 2, 6, trial % 2);
            Assert.InRange(Thorough(problem), LoadBounds.Of(problem), RandomLoads.LeastByTrying(problem));
        }
    }

    [Fact]
    public void Thorough_ManyJobs_IsHigherThanTheQuickBoundAndNotAboveAPlan()
    {
        var problem = RandomLoads.Make(new SeededRandom(64), 60, 3);
        var plan = LoadPlanner.Plan(problem, new(1, 200_000, 1), null, CancellationToken.None);
        var bound = Thorough(problem);
        Assert.True(bound > plan.Bound, $"{bound} is not above {plan.Bound}");
        Assert.True(bound <= plan.Cost, $"{bound} is above {plan.Cost}");
    }

    [Fact]
    public void Thorough_CapacityInFineUnits_FallsBackToTheQuickBound()
    {
        var problem = Of(1_000_000, (4, 9, 300_001), (4, 9, 300_007));
        Assert.Equal(LoadBounds.Of(problem), Thorough(problem));
    }

    [Fact]
    public void Search_ProblemThatTheBoundAloneProves_IsProvenWithoutTheSolver()
    {
        var problem = Of(5, (4, 9, 3), (4, 9, 3), (4, 9, 3));
        var proof = LoadProof.Search(problem, LoadPlanner.First(problem), 0, 1, CancellationToken.None);
        Assert.True(proof.Proven);
        Assert.Equal(42, proof.Bound);
    }
}
