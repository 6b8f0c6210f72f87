using System.Diagnostics;
using ShopFloor.Planning.Loads;

namespace ShopFloor.Benchmarks;

/// <summary>Published oven instances: our value beside the published best and bound.</summary>
internal static class OvensCommand
{
    public static int Run(Arguments args)
    {
        var folder = args.Folder("data");
        var weights = (int)args.Number("weights", 1);
        var seconds = args.Number("seconds", 30);
        var sizes = args.Numbers("n");
        var only = args.Numbers("only");
        var chains = (int)args.Number("chains", 2);
        var seed = (ulong)args.Number("seed", 1);
        LoadPlanner.Hot = args.Number("hot", LoadPlanner.Hot);
        LoadPlanner.Cold = args.Number("cold", LoadPlanner.Cold);
        var published = PublishedLoads.Read(Path.Combine(folder, "published.csv"));
        var files = Directory.GetFiles(Path.Combine(folder, $"weights-{weights}"), "*.dzn").Order(StringComparer.Ordinal);
        var gaps = new SortedDictionary<int, List<double>>();
        foreach (var file in files)
        {
            var instance = OvenFile.Read(file);
            var n = instance.Problem.Jobs.Count;
            if ((sizes is not null && !sizes.Contains(n)) || (only is not null && !only.Contains(instance.Number)))
                continue;
            var watch = Stopwatch.StartNew();
            var steps = (long)(args.Number("steps", 0) * 1e6);
            if (steps == 0)
                steps = (long)(seconds * StepsPerSecond(instance.Problem, chains));
            watch.Restart();
            var plan = LoadPlanner.Plan(instance.Problem, new(seed, steps, chains), null, CancellationToken.None);
            var perSecond = steps / watch.Elapsed.TotalSeconds;
            if (args.TryText("out") is { } outDir)
            {
                var written = ToWritten(instance.Number, weights, plan);
                Written.Save(outDir, written.FileName, written);
            }
            var known = published.GetValueOrDefault((weights, instance.Number));
            var gap = 100.0 * (plan.Cost - known) / known;
            if (!gaps.TryGetValue(n, out var list))
                gaps[n] = list = [];
            list.Add(gap);
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{instance.Number, 3} n {n, 3} {plan.Cost, 12} published {known, 12} {gap, 8:F3} %  {watch.Elapsed.TotalSeconds, 6:F1} s  {perSecond / 1e6:F2} M/s x{chains}"
                )
            );
        }
        foreach (var (n, list) in gaps)
            Console.WriteLine(
                string.Create(CultureInfo.InvariantCulture, $"n {n, 3}: mean {list.Average():F3} % worst {list.Max():F3} % of {list.Count}")
            );
        return 0;
    }

    private static WrittenLoads ToWritten(int instance, int weights, LoadPlan plan) =>
        new(
            instance,
            weights,
            plan.Cost,
            [.. plan.Loads.Select(l => new WrittenBatch(l.Oven + 1, l.Family + 1, l.Start, l.End, [.. l.Jobs.Select(j => j + 1)]))]
        );

    // Measured on runs that double until one is long enough for the clock, so that the time limit only chooses the number of steps.
    private static double StepsPerSecond(LoadProblem problem, int chains)
    {
        for (long steps = 1 << 17; ; steps *= 2)
        {
            var watch = Stopwatch.StartNew();
            LoadPlanner.Plan(problem, new(1, steps, chains), null, CancellationToken.None);
            if (watch.Elapsed.TotalSeconds > 0.25)
                return steps / watch.Elapsed.TotalSeconds;
        }
    }
}

internal static class PublishedLoads
{
    public static Dictionary<(int Weights, int Instance), long> Read(string file) =>
        File.ReadAllLines(file)
            .Skip(1)
            .Select(l => l.Split(','))
            .ToDictionary(
                w => (int.Parse(w[0], CultureInfo.InvariantCulture), int.Parse(w[1], CultureInfo.InvariantCulture)),
                w => long.Parse(w[6], CultureInfo.InvariantCulture)
            );
}
