namespace ShopFloor.Planning.Loads;

/// <summary>A load problem as flat arrays, jobs that cannot be planned taken out. Immutable; shared between threads.</summary>
internal sealed class LoadModel
{
    /// <summary>Eligible ovens are the bits of one number.</summary>
    public const int MostOvens = 64;

    public LoadModel(LoadProblem problem, IReadOnlyList<int> jobs)
    {
        Problem = problem;
        JobAt = [.. jobs];
        N = jobs.Count;
        M = problem.Ovens.Count;
        A = problem.Families;
        var chosen = jobs.Select(j => problem.Jobs[j]).ToArray();
        Family = [.. chosen.Select(j => j.Family)];
        MinDwell = [.. chosen.Select(j => j.MinDwell)];
        MaxDwell = [.. chosen.Select(j => j.MaxDwell)];
        Release = [.. chosen.Select(j => j.Release)];
        Due = [.. chosen.Select(j => j.Due)];
        Size = [.. chosen.Select(j => j.Size)];
        var room = problem.Room?.Invoke();
        OvensOf = [.. jobs.Select(j => LoadFaults.OvensFor(problem, room, j))];
        Eligible = [.. OvensOf.Select(list => list.Aggregate(0UL, (mask, o) => mask | (1UL << o)))];
        LateWeight = [.. chosen.Select(j => problem.Weights.Lateness * j.Weight)];
        Capacity = [.. problem.Ovens.Select(o => o.Capacity)];
        First = [.. problem.Ovens.Select(o => o.FirstFamily)];
        From = [.. problem.Ovens.Select(o => o.Available.Select(s => s.From).ToArray())];
        To = [.. problem.Ovens.Select(o => o.Available.Select(s => s.To).ToArray())];
        SetupTime = new int[A * A];
        SetupPrice = new long[A * A];
        var w = problem.Weights;
        for (var f = 0; f < A; f++)
        for (var g = 0; g < A; g++)
        {
            SetupTime[f * A + g] = problem.SetupTimes[f, g];
            SetupPrice[f * A + g] = w.SetupCost * problem.SetupCosts[f, g] + w.SetupTime * problem.SetupTimes[f, g];
        }
        JobsOfFamily = [.. Enumerable.Range(0, A).Select(f => Enumerable.Range(0, N).Where(j => Family[j] == f).ToArray())];
        DwellPrice = w.Dwell;
        LatePrice = w.LateJob;
        LoadPrice = w.Load;
        CountsLateness = w.Lateness > 0;
        MeanLateWeight = N == 0 ? 0 : LateWeight.Sum() / N;
    }

    public LoadProblem Problem { get; }

    /// <summary>Position in the problem of each job here.</summary>
    public int[] JobAt { get; }

    public int N { get; }
    public int M { get; }
    public int A { get; }
    public int[] Family { get; }
    public int[] MinDwell { get; }
    public int[] MaxDwell { get; }
    public int[] Release { get; }
    public int[] Due { get; }
    public long[] Size { get; }
    public ulong[] Eligible { get; }
    public int[][] OvensOf { get; }
    public long[] LateWeight { get; }
    public long[] Capacity { get; }
    public int[] First { get; }
    public int[][] From { get; }
    public int[][] To { get; }
    public int[] SetupTime { get; }
    public long[] SetupPrice { get; }
    public int[][] JobsOfFamily { get; }
    public long DwellPrice { get; }
    public long LatePrice { get; }
    public long LoadPrice { get; }
    public bool CountsLateness { get; }
    public long MeanLateWeight { get; }

    /// <summary>The loads of a plan of this problem with jobs by the numbers used here.</summary>
    public List<PlannedLoad> Inside(IReadOnlyList<PlannedLoad> loads)
    {
        var number = JobAt.Select((at, j) => (at, j)).ToDictionary(p => p.at, p => p.j);
        return [.. loads.Select(l => l with { Jobs = [.. l.Jobs.Select(at => number[at])] })];
    }

    /// <summary>
    /// What one job adds when its load ends at a given second. With a ramp the price of being late comes little by little over so many
    /// seconds, where only late jobs are counted: a search that sees it knows which way a late job is nearly in time.
    /// </summary>
    public long LateCost(int job, int end, int ramp = 0)
    {
        var late = end - Due[job];
        if (late <= 0)
            return 0;
        if (CountsLateness)
            return LatePrice + (LateWeight[job] * late);
        return late < ramp ? LatePrice * late / ramp : LatePrice;
    }

    /// <summary>
    /// The end of a load that follows another at once: in the first interval, from <paramref name="interval"/> on, that holds its set-up
    /// and its dwell.
    /// </summary>
    public bool Next(int oven, int setup, int dwell, int release, ref int interval, ref int time)
    {
        var (from, to) = (From[oven], To[oven]);
        for (; interval < from.Length; interval++)
        {
            var start = Math.Max(Math.Max(time, from[interval]) + setup, release);
            if (start + dwell > to[interval])
                continue;
            time = start + dwell;
            return true;
        }
        return false;
    }
}
