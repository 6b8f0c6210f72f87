using Google.OrTools.LinearSolver;

namespace ShopFloor.Planning.Loads;

/// <summary>
/// The least oven time and set-ups of one family's loads, without regard to when they run: every job covered by shares of loads that
/// sizes, windows and ovens allow. A linear programme whose loads are made as they are needed (P. C. Gilmore, R. E. Gomory, Operations
/// Research 9, 1961); the bound is taken from its prices, made smaller until no load is worth more than it costs (A. A. Farley, Operations
/// Research 38, 1990), in whole numbers, so that rounding in the programme cannot make it too high.
/// </summary>
internal sealed class LoadCover
{
    /// <summary>Capacities above this, in units of the sizes' common divisor, are too many for the table of the knapsack.</summary>
    private const long MostUnits = 20_000;

    private const int MostRounds = 2_000;

    /// <summary>Prices are whole numbers of so many parts of a point.</summary>
    private const long Parts = 1024;

    private readonly LoadModel model;
    private readonly int[] jobs;
    private readonly int[] dwells;
    private readonly long[] setups;
    private readonly long unit;
    private readonly LoadKnapsack knapsack;

    private LoadCover(LoadModel model, int family, long unit)
    {
        (this.model, this.unit, jobs) = (model, unit, model.JobsOfFamily[family]);
        dwells = [.. jobs.Select(j => model.MinDwell[j]).Distinct().Order()];
        var cheapest = Enumerable.Range(0, model.A).Min(g => model.SetupPrice[g * model.A + family]);
        setups = [.. model.First.Select(f => Math.Min(cheapest, model.SetupPrice[f * model.A + family]))];
        knapsack = new([.. jobs.Select(j => (int)(model.Size[j] / unit))]);
    }

    /// <summary>The bound of a family, 0 where the capacities are too fine for it.</summary>
    public static long Of(LoadModel model, int family, CancellationToken cancel)
    {
        var members = model.JobsOfFamily[family];
        if (members.Length == 0)
            return 0;
        var common = members.Select(j => model.Size[j]).Where(s => s > 0).DefaultIfEmpty(1).Aggregate(Divisor);
        return model.Capacity.Max() / common > MostUnits ? 0 : new LoadCover(model, family, common).Find(cancel);
    }

    private static long Divisor(long a, long b) => b == 0 ? a : Divisor(b, a % b);

    private long Find(CancellationToken cancel)
    {
        using var programme = Solver.CreateSolver("GLOP");
        var rows = jobs.Select(_ => programme.MakeConstraint(1, double.PositiveInfinity)).ToArray();
        programme.Objective().SetMinimization();
        for (var i = 0; i < jobs.Length; i++)
            Add(programme, rows, [i], model.OvensOf[jobs[i]].Min(o => Cost(o, model.MinDwell[jobs[i]])));
        var prices = new long[jobs.Length];
        var best = 0L;
        for (var round = 0; round < MostRounds && !cancel.IsCancellationRequested; round++)
        {
            if (programme.Solve() != Solver.ResultStatus.OPTIMAL)
                break;
            for (var i = 0; i < prices.Length; i++)
                prices[i] = Math.Max(0, (long)Math.Floor(rows[i].DualValue() * Parts));
            var (bound, worth) = Priced(prices);
            best = Math.Max(best, bound);
            foreach (var load in worth)
                Add(programme, rows, load.Jobs, load.Cost);
            if (worth.Count == 0)
                break;
        }
        // Costs are whole points.
        return (best + Parts - 1) / Parts;
    }

    private long Cost(int oven, int dwell) => (model.DwellPrice * dwell) + model.LoadPrice + setups[oven];

    private static void Add(Solver programme, Constraint[] rows, IReadOnlyList<int> load, long cost)
    {
        var share = programme.MakeNumVar(0, double.PositiveInfinity, "");
        programme.Objective().SetCoefficient(share, cost);
        foreach (var i in load)
            rows[i].SetCoefficient(share, 1);
    }

    // What the prices prove, and the loads that are worth more than they cost.
    private (long Bound, List<(IReadOnlyList<int> Jobs, long Cost)> Worth) Priced(long[] prices)
    {
        var worth = new List<(IReadOnlyList<int>, long)>();
        var (cost, value) = (1L, 1L);
        for (var o = 0; o < model.M; o++)
            foreach (var dwell in dwells)
            {
                var (paid, load) = knapsack.Best(prices, model.Capacity[o] / unit, i => Fits(jobs[i], o, dwell));
                var asked = Cost(o, dwell) * Parts;
                if (paid <= asked)
                    continue;
                worth.Add((load, Cost(o, dwell)));
                if ((Int128)asked * value < (Int128)cost * paid)
                    (cost, value) = (asked, paid);
            }
        return ((long)((Int128)prices.Sum() * cost / value), worth);
    }

    private bool Fits(int job, int oven, int dwell) =>
        ((model.Eligible[job] >> oven) & 1) != 0 && model.MinDwell[job] <= dwell && dwell <= model.MaxDwell[job];
}

/// <summary>Things of whole sizes with prices into one room: the most that fits.</summary>
internal sealed class LoadKnapsack(int[] sizes)
{
    private long[] most = [];
    private bool[] taken = [];

    /// <summary>The most that the room can be worth, and which things are in it.</summary>
    public (long Value, IReadOnlyList<int> Things) Best(long[] prices, long room, Func<int, bool> fits)
    {
        var width = (int)room + 1;
        if (most.Length < width)
            (most, taken) = (new long[width], new bool[width * sizes.Length]);
        Array.Clear(most);
        int[] things = [.. Enumerable.Range(0, sizes.Length).Where(i => prices[i] > 0 && sizes[i] <= room && fits(i))];
        for (var k = 0; k < things.Length; k++)
        {
            var (size, price, row) = (sizes[things[k]], prices[things[k]], k * width);
            for (var r = (int)room; r >= size; r--)
                if (taken[row + r] = most[r - size] + price > most[r])
                    most[r] = most[r - size] + price;
        }
        var list = new List<int>();
        for (int k = things.Length - 1, r = (int)room; k >= 0; k--)
            if (r >= sizes[things[k]] && taken[(k * width) + r])
            {
                list.Add(things[k]);
                r -= sizes[things[k]];
            }
        return (most[room], list);
    }
}
