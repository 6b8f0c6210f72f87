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
        var sizes = args.Numbers("n");
        var only = args.Numbers("only");
        var published = PublishedLoads.Read(Path.Combine(folder, "published.csv"));
        var instances = Path.Combine(folder, $"weights-{weights}");
        if (!Directory.Exists(instances))
            throw new InputFault($"The folder '{instances}' is not there.");
        var gaps = new SortedDictionary<int, List<double>>();
        var proven = new SortedDictionary<int, int>();
        Console.WriteLine("instance    n        value    published      gap %        bound proven  search s  steps/s  proof s");
        foreach (var file in Directory.GetFiles(instances, "*.dzn").Order(StringComparer.Ordinal))
        {
            var instance = OvenFile.Read(file);
            var n = instance.Problem.Jobs.Count;
            if ((sizes is not null && !sizes.Contains(n)) || (only is not null && !only.Contains(instance.Number)))
                continue;
            var (gap, isProven) = Solve(args, instance, weights, published.GetValueOrDefault((weights, instance.Number)));
            if (gap is { } percent)
                Add(gaps, n, percent);
            proven[n] = proven.GetValueOrDefault(n) + (isProven ? 1 : 0);
        }
        Console.WriteLine();
        Console.WriteLine("   n instances  mean gap %  worst gap %  best gap %  below  equal  above  proven");
        foreach (var (n, list) in gaps)
            Console.WriteLine(
                Line(
                    $"{n, 4} {list.Count, 9} {list.Average(), 11:F3} {list.Max(), 12:F3} {list.Min(), 11:F3} {list.Count(g => g < 0), 6} {list.Count(g => g == 0), 6} {list.Count(g => g > 0), 6} {proven[n], 7}"
                )
            );
        return 0;
    }

    private static (double? Gap, bool Proven) Solve(Arguments args, OvenInstance instance, int weights, long published)
    {
        var chains = (int)args.Number("chains", 2);
        var seeds = args.Numbers("seeds") ?? [1];
        var prove = args.Number("prove", 0);
        var limit = args.Number("seconds", 30);
        var fixedSteps = (long)(args.Number("steps", 0) * 1e6);
        var windows = (int)args.Number("windows", 0);
        var watch = Stopwatch.StartNew();
        long steps = 0;
        var plans = seeds.Select(seed => Search(instance.Problem, (ulong)seed, chains, windows, fixedSteps, limit, ref steps)).ToArray();
        var seconds = watch.Elapsed.TotalSeconds / seeds.Length;
        watch.Restart();
        var plan = plans.MinBy(p => p.Cost)!;
        if (args.TryText("bound") == "thorough")
            plan = plan with { Bound = LoadBounds.Thorough(instance.Problem, CancellationToken.None) };
        var proven = plan.Cost == plan.Bound;
        if (prove > 0 && !proven)
        {
            var proof = LoadProof.Search(instance.Problem, plan, prove, (int)args.Number("workers", 8), CancellationToken.None);
            (plan, proven) = (proof.Plan with { Bound = proof.Bound }, proof.Proven);
        }
        if (args.TryText("out") is { } folder)
        {
            var written = ToWritten(instance.Number, weights, plan);
            Written.Save(folder, written.FileName, written);
        }
        var value = prove > 0 ? plan.Cost : plans.Average(p => p.Cost);
        double? gap = published > 0 ? 100 * (value - published) / published : null;
        Console.WriteLine(
            Line(
                $"{instance.Number, 8} {instance.Problem.Jobs.Count, 4} {value, 12:F0} {published, 12} {gap, 10:F3} {plan.Bound, 12} {(proven ? "yes" : "no"), 6} {seconds, 9:F1} {steps / seeds.Length / seconds / 1e6, 7:F2}M {watch.Elapsed.TotalSeconds, 8:F1}"
            )
        );
        return (gap, proven);
    }

    private static WrittenLoads ToWritten(int instance, int weights, LoadPlan plan) =>
        new(
            instance,
            weights,
            plan.Cost,
            [.. plan.Loads.Select(l => new WrittenBatch(l.Oven + 1, l.Family + 1, l.Start, l.End, [.. l.Jobs.Select(j => j + 1)]))]
        );

    // The time limit only chooses the numbers of steps: of a first cooling by a short trial, and, when that was over early because the
    // trial ran slowly, of further coolings with seeds of their own.
    private static LoadPlan Search(LoadProblem problem, ulong seed, int chains, int windows, long fixedSteps, double limit, ref long steps)
    {
        if (fixedSteps > 0)
        {
            steps += fixedSteps;
            return LoadPlanner.Plan(problem, new(seed, fixedSteps, chains, 32, windows), null, CancellationToken.None);
        }
        var watch = Stopwatch.StartNew();
        LoadPlan? best = null;
        long next = 1 << 17;
        for (var trial = 0UL; ; trial++)
        {
            var begin = watch.Elapsed.TotalSeconds;
            var plan = LoadPlanner.Plan(problem, new(seed + 1000 * trial, next, chains, 32, windows), null, CancellationToken.None);
            steps += next;
            best = best is null || plan.Cost < best.Cost ? plan : best;
            var left = limit - watch.Elapsed.TotalSeconds;
            if (left < limit / 8)
                return best;
            var last = Math.Max(1e-4, watch.Elapsed.TotalSeconds - begin);
            next = last < 0.1 ? next * 2 : (long)(next * left / last * 0.9);
        }
    }

    private static void Add(SortedDictionary<int, List<double>> gaps, int n, double gap)
    {
        if (!gaps.TryGetValue(n, out var list))
            gaps[n] = list = [];
        list.Add(gap);
    }

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

/// <summary>The published best values.</summary>
internal static class PublishedLoads
{
    public static Dictionary<(int Weights, int Instance), long> Read(string file)
    {
        var best = new Dictionary<(int, int), long>();
        if (!File.Exists(file))
        {
            Console.WriteLine($"No published values: '{file}' is absent.");
            return best;
        }
        var lines = File.ReadAllLines(file);
        for (var at = 1; at < lines.Length; at++)
        {
            var words = lines[at].Split(',');
            if (
                words.Length < 7
                || !int.TryParse(words[0], NumberStyles.None, CultureInfo.InvariantCulture, out var weights)
                || !int.TryParse(words[1], NumberStyles.None, CultureInfo.InvariantCulture, out var instance)
                || !long.TryParse(words[6], NumberStyles.None, CultureInfo.InvariantCulture, out var value)
            )
                throw InputFault.At(file, at + 1, "Weights, instance and published best must be whole numbers.");
            best[(weights, instance)] = value;
        }
        return best;
    }
}
