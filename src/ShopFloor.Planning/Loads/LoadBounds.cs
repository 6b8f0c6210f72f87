namespace ShopFloor.Planning.Loads;

/// <summary>Costs that no plan can go below.</summary>
public static class LoadBounds
{
    /// <summary>
    /// The bound for all jobs of a problem: least oven time and loads per family with the jobs cut into units of size, the cheapest
    /// set-up for each of these loads, and jobs that are late even alone in the first place.
    /// </summary>
    /// <param name="problem">The problem; jobs that cannot be planned are left out of it.</param>
    public static long Of(LoadProblem problem)
    {
        var (plannable, _) = LoadFaults.Find(problem);
        return Of(new LoadModel(problem, plannable));
    }

    /// <summary>
    /// A higher bound that takes seconds: loads of the jobs as they are, not cut into units (<see cref="LoadCover"/>). Never below
    /// <see cref="Of(LoadProblem)"/>.
    /// </summary>
    /// <param name="problem">The problem; with a finer test of room than sizes the quick bound is returned.</param>
    /// <param name="cancel">Ends the search for it early; what is found so far holds.</param>
    public static long Thorough(LoadProblem problem, CancellationToken cancel)
    {
        var (plannable, _) = LoadFaults.Find(problem);
        return Thorough(new LoadModel(problem, plannable), cancel);
    }

    internal static long Thorough(LoadModel model, CancellationToken cancel)
    {
        var quick = Of(model);
        if (model.Problem.Room is not null)
            return quick;
        var bound = LateAnyway(model);
        for (var f = 0; f < model.A; f++)
            bound += LoadCover.Of(model, f, cancel);
        return Math.Max(quick, bound);
    }

    internal static long Of(LoadModel model)
    {
        long bound = 0;
        for (var f = 0; f < model.A; f++)
        {
            var jobs = model.JobsOfFamily[f];
            if (jobs.Length == 0)
                continue;
            var (dwell, loads) = LeastDwell(model, jobs);
            var setup = Enumerable.Range(0, model.A).Min(g => model.SetupPrice[g * model.A + f]);
            bound += model.DwellPrice * dwell + (model.LoadPrice + setup) * loads;
        }
        return bound + LateAnyway(model);
    }

    private static long LateAnyway(LoadModel model)
    {
        long cost = 0;
        for (var j = 0; j < model.N; j++)
        {
            var end = EarliestEnd(model, j);
            cost += end == int.MaxValue ? 0 : model.LateCost(j, end);
        }
        return cost;
    }

    // Jobs by falling dwell, cut into units, fill the largest capacity load by load; each load lasts as long as its first unit
    // (R. Uzsoy, Int. J. Production Research 32, 1994).
    private static (long Dwell, long Loads) LeastDwell(LoadModel model, int[] jobs)
    {
        var capacity = Enumerable
            .Range(0, model.M)
            .Where(o => jobs.Any(j => ((model.Eligible[j] >> o) & 1) != 0))
            .Max(o => model.Capacity[o]);
        long dwell = 0,
            loads = 0,
            room = 0;
        foreach (var j in jobs.OrderByDescending(j => model.MinDwell[j]))
        {
            var size = model.Size[j];
            if (loads == 0 || size > room)
            {
                var more = loads == 0 ? Math.Max(1, (size + capacity - 1) / capacity) : (size - room + capacity - 1) / capacity;
                dwell += more * model.MinDwell[j];
                loads += more;
                room += more * capacity;
            }
            room -= size;
        }
        return (dwell, loads);
    }

    private static int EarliestEnd(LoadModel model, int j)
    {
        var best = int.MaxValue;
        foreach (var o in model.OvensOf[j])
        {
            // The first set-up, or the shortest from any family after another load.
            var setup = Math.Min(
                model.SetupTime[model.First[o] * model.A + model.Family[j]],
                Enumerable.Range(0, model.A).Min(g => model.SetupTime[g * model.A + model.Family[j]])
            );
            int interval = 0,
                time = 0;
            if (model.Next(o, setup, model.MinDwell[j], model.Release[j], ref interval, ref time))
                best = Math.Min(best, time);
        }
        return best;
    }
}
