using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Benchmarks.Days;

/// <summary>Seeded days executed in simulation: how many promises are kept when hands take longer or shorter and pieces fail.</summary>
internal static class DaySimulate
{
    private const int LeastMarginS = 3_600;

    public static int Run(Arguments args)
    {
        var (days, pieces, seed) = ((int)args.Number("days", 40), (int)args.Number("n", 20), (ulong)args.Number("seed", 1));
        var (spread, faults) = (args.Number("spread", 20) / 100, args.Number("faults", 5) / 100);
        var reserve = args.Number("reserve", 20) / 100;
        var results = new Simulated[days];
        Parallel.For(
            0,
            days,
            new ParallelOptions { MaxDegreeOfParallelism = 2 },
            d =>
                results[d] = new Simulation(
                    Promised(DayMaker.Make(pieces, seed + (ulong)d), reserve),
                    null,
                    seed + (ulong)d,
                    spread,
                    faults
                ).Run()
        );
        var (orders, kept) = (results.Sum(r => r.Orders), results.Sum(r => r.Kept));
        Console.WriteLine("days  pieces  orders  kept  kept %  faults  plans a day  overstepped after a warning  without  unfinished");
        Console.WriteLine(
            FormattableString.Invariant(
                $"{days, 4} {pieces, 7} {orders, 7} {kept, 5} {100.0 * kept / orders, 7:F1} {results.Sum(r => r.Faults), 7} {results.Average(r => r.Replans + 1), 12:F0} {results.Sum(r => r.Warned), 28} {results.Sum(r => r.Unwarned), 8} {results.Sum(r => r.Stuck), 11}"
            )
        );
        return 0;
    }

    /// <summary>The day with the promises a workshop gives: the planned end of each order, the reserve on top, to the end of that working day.</summary>
    private static Day Promised(Day day, double reserve)
    {
        var far = day with
        {
            HorizonS = day.HorizonS + (4 * 86_400),
            People = [.. day.People.Select(p => p with { Shifts = Longer(p.Shifts) })],
        };
        far = far with { Pieces = [.. far.Pieces.Select(p => p with { PromiseS = far.HorizonS })] };
        var plan = DayPlanner.First(far, new string('0', 64));
        var order = far.Pieces.ToDictionary(p => p.Id, p => p.Order, StringComparer.Ordinal);
        var ends = plan
            .Tasks.Where(t => t.Piece is not null)
            .GroupBy(t => order[t.Piece!], StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.Max(t => t.EndS ?? 0), StringComparer.Ordinal);
        return far with
        {
            Pieces = [.. far.Pieces.Select(p => p with { PromiseS = Rounded(ends.GetValueOrDefault(p.Order, far.HorizonS)) })],
        };

        int Rounded(int end)
        {
            var at = end + Math.Max(LeastMarginS, end * reserve / (1 - reserve));
            var closing = far.People.SelectMany(p => p.Shifts).Select(s => s.NormalToS).Where(t => t % 86_400 > 28_800 && t >= at);
            return closing.DefaultIfEmpty(far.HorizonS).Min();
        }
    }

    /// <summary>The same hours on the days that follow.</summary>
    private static List<Shift> Longer(IReadOnlyList<Shift> shifts)
    {
        var (all, last) = (shifts.ToList(), shifts.Max(s => s.FromS / 86_400));
        for (var d = 1; d <= 4; d++)
            foreach (var shift in shifts.Where(s => s.FromS / 86_400 == last))
                all.Add(new Shift(shift.FromS + (d * 86_400), shift.NormalToS + (d * 86_400), shift.ToS + (d * 86_400)));
        return all;
    }
}
