using ShopFloor.Planning.Loads;

namespace ShopFloor.Planning.Tests.Loads;

/// <summary>Seeded load problems, and a check of plans written from the rules alone.</summary>
internal static class RandomLoads
{
    /// <summary>
    /// Parameters after the published instances (M. Lackner et al., Constraints 28(2), 2023): sizes up to 5, further ovens eligible with
    /// one half, releases spread over half the work, due times with a slack of up to twice the dwell.
    /// </summary>
    public static LoadProblem Make(SeededRandom random, int jobs, int ovens = 2, int families = 2, int largestDwell = 10, int lateness = 0)
    {
        var horizon = 40 * jobs + 100;
        var capacity = Enumerable.Range(0, ovens).Select(_ => 5L + random.Next(6)).ToArray();
        return new(
            [.. Enumerable.Range(0, jobs).Select(j => Job(random, j, jobs, ovens, families, largestDwell))],
            [.. Enumerable.Range(0, ovens).Select(o => new LoadOven($"o{o}", capacity[o], random.Next(families), Shifts(random, horizon)))],
            families,
            Matrix(random, families, 4),
            Matrix(random, families, 3),
            new(4, 2, 1, 100, lateness, 3)
        );
    }

    private static LoadJob Job(SeededRandom random, int j, int jobs, int ovens, int families, int largestDwell)
    {
        var min = 1 + random.Next(largestDwell);
        var release = random.Next(2 * jobs + 1);
        var eligible = Enumerable.Range(0, ovens).Where(_ => random.Next(2) == 0).ToHashSet();
        eligible.Add(random.Next(ovens));
        return new(
            $"j{j:D3}",
            random.Next(families),
            min,
            min + random.Next(largestDwell),
            release,
            release + min + random.Next(2 * min),
            1 + random.Next(5),
            1 + random.Next(3),
            [.. eligible.Order()]
        );
    }

    private static Span[] Shifts(SeededRandom random, int horizon)
    {
        var first = random.Next(10);
        var pause = first + 40 + random.Next(40);
        return [new(first, pause), new(pause + 5 + random.Next(30), horizon)];
    }

    private static int[,] Matrix(SeededRandom random, int n, int largest)
    {
        var matrix = new int[n, n];
        for (var i = 0; i < n; i++)
        for (var j = 0; j < n; j++)
            matrix[i, j] = random.Next(largest);
        return matrix;
    }

    /// <summary>The cost of a plan, every rule asserted on the way.</summary>
    public static long CostOf(LoadProblem problem, LoadPlan plan)
    {
        long cost = 0;
        foreach (var load in plan.Loads)
        {
            var jobs = load.Jobs.Select(j => problem.Jobs[j]).ToArray();
            Assert.NotEmpty(jobs);
            Assert.All(jobs, j => Assert.Contains(load.Oven, j.Ovens));
            Assert.All(jobs, j => Assert.Equal(load.Family, j.Family));
            Assert.All(jobs, j => Assert.InRange(load.End - load.Start, j.MinDwell, j.MaxDwell));
            Assert.All(jobs, j => Assert.True(load.Start >= j.Release));
            Assert.True(jobs.Sum(j => j.Size) <= problem.Ovens[load.Oven].Capacity);
            cost += problem.Weights.Dwell * (load.End - load.Start) + problem.Weights.Load;
            foreach (var job in jobs.Where(j => load.End > j.Due))
                cost += problem.Weights.LateJob + problem.Weights.Lateness * job.Weight * (load.End - job.Due);
        }
        for (var o = 0; o < problem.Ovens.Count; o++)
        {
            var (family, end) = (problem.Ovens[o].FirstFamily, 0);
            foreach (var load in plan.Loads.Where(l => l.Oven == o).OrderBy(l => l.Start))
            {
                var setup = problem.SetupTimes[family, load.Family];
                Assert.True(load.Start - setup >= end);
                Assert.Contains(problem.Ovens[o].Available, a => a.From <= load.Start - setup && load.End <= a.To);
                cost += problem.Weights.SetupTime * setup + problem.Weights.SetupCost * problem.SetupCosts[family, load.Family];
                (family, end) = (load.Family, load.End);
            }
        }
        var planned = plan.Loads.SelectMany(l => l.Jobs).Concat(plan.LeftOut.Select(l => l.Job)).Order().ToArray();
        Assert.Equal(Enumerable.Range(0, problem.Jobs.Count), planned);
        return cost;
    }

    /// <summary>The least cost, by trying every partition into loads and every sequence of them.</summary>
    public static long LeastByTrying(LoadProblem problem)
    {
        var model = new LoadModel(problem, [.. Enumerable.Range(0, problem.Jobs.Count)]);
        var sequences = Enumerable.Range(0, model.M).Select(_ => new List<List<int>>()).ToArray();
        var best = LoadState.Impossible;
        void From(int j)
        {
            if (j == model.N)
            {
                best = Math.Min(best, Price(model, sequences));
                return;
            }
            foreach (var o in model.OvensOf[j])
            {
                foreach (var load in sequences[o].ToArray())
                {
                    load.Add(j);
                    From(j + 1);
                    load.RemoveAt(load.Count - 1);
                }
                for (var p = 0; p <= sequences[o].Count; p++)
                {
                    sequences[o].Insert(p, [j]);
                    From(j + 1);
                    sequences[o].RemoveAt(p);
                }
            }
        }
        From(0);
        return best;
    }

    private static long Price(LoadModel model, List<List<int>>[] sequences)
    {
        long cost = 0;
        for (var o = 0; o < sequences.Length; o++)
        {
            int time = 0,
                interval = 0,
                before = model.First[o];
            foreach (var load in sequences[o])
            {
                var (family, dwell) = (model.Family[load[0]], load.Max(j => model.MinDwell[j]));
                if (
                    load.Exists(j => model.Family[j] != family || model.MaxDwell[j] < dwell)
                    || load.Sum(j => model.Size[j]) > model.Capacity[o]
                )
                    return LoadState.Impossible;
                var pair = before * model.A + family;
                if (!model.Next(o, model.SetupTime[pair], dwell, load.Max(j => model.Release[j]), ref interval, ref time))
                    return LoadState.Impossible;
                cost += model.SetupPrice[pair] + model.DwellPrice * dwell + model.LoadPrice + load.Sum(j => model.LateCost(j, time));
                before = family;
            }
        }
        return cost;
    }
}
