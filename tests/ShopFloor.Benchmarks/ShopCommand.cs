using System.Diagnostics;
using ShopFloor.Planning;
using ShopFloor.Planning.Layout;
using ShopFloor.Planning.Loads;

namespace ShopFloor.Benchmarks;

/// <summary>Invented workshops of growing size: pieces on real shelves, time and memory over the number of pieces.</summary>
internal static class ShopCommand
{
    public static int Run(Arguments args)
    {
        var steps = (long)(args.Number("steps", 0.2) * 1e6);
        Console.WriteLine("pieces  first ms  loads        cost  improved s  loads        cost       bound  memory MB");
        Measure(50, 1000, true);
        foreach (var n in args.Numbers("n") ?? [50, 100, 200, 500, 1000, 2000])
            Measure(n, steps, false);
        return 0;
    }

    private static void Measure(int n, long steps, bool warmUp)
    {
        var problem = Shop(n);
        var watch = Stopwatch.StartNew();
        var first = LoadPlanner.First(problem);
        var firstMs = watch.Elapsed.TotalMilliseconds;
        watch.Restart();
        var plan = LoadPlanner.Plan(problem, new(1, steps), null, CancellationToken.None);
        if (!warmUp)
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{n, 6} {firstMs, 9:F1} {first.Loads.Count, 6} {first.Cost, 11} {watch.Elapsed.TotalSeconds, 11:F1} {plan.Loads.Count, 6} {plan.Cost, 11} {plan.Bound, 11} {Environment.WorkingSet / 1048576, 10}"
                )
            );
    }

    // Two ovens of three shelves, 60 x 40 cm, with clear heights of 12, 8 and 5 cm; plates of 5 to 25 cm, up to 10 cm high; three
    // temperatures; a promise one to three days after the piece is ready.
    private static LoadProblem Shop(int n)
    {
        var random = new SeededRandom((ulong)n);
        const int mm = 1000;
        var pieces = Enumerable
            .Range(0, n)
            .Select(i => new Footprint(
                i.ToString("D5", CultureInfo.InvariantCulture),
                (50 + random.Next(200)) * mm,
                (50 + random.Next(200)) * mm,
                (1 + random.Next(10) * random.Next(10) / 8) * mm * 8,
                random.Next(4) > 0
            ))
            .ToArray();
        Surface[] shelves = [new(600 * mm, 400 * mm, 120 * mm), new(600 * mm, 400 * mm, 80 * mm), new(600 * mm, 400 * mm, 50 * mm)];
        var task = LayoutTask.Create(shelves, new(10 * mm, 8 * mm), pieces);
        var jobs = pieces.Select(
            (p, i) =>
            {
                var ready = random.Next(n * 120);
                var min = 600 + 60 * random.Next(10);
                return new LoadJob(p.Id, random.Next(3), min, min + 300, ready, ready + 86400 * (1 + random.Next(3)), p.Area, 1, [0, 1]);
            }
        );
        int[,] setups =
        {
            { 0, 600, 1200 },
            { 900, 0, 600 },
            { 1800, 900, 0 },
        };
        var room = shelves.Sum(s => s.Area);
        return new(
            [.. jobs],
            [new("oven-1", room, 0, [new(0, 10_000_000)]), new("oven-2", room, 1, [new(0, 10_000_000)])],
            3,
            setups,
            setups,
            new(1, 0, 1, 36_000, 1, 3_000),
            () => new ShelfRoom([task, task])
        );
    }
}
