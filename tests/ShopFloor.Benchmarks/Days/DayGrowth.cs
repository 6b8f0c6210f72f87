using System.Diagnostics;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;

namespace ShopFloor.Benchmarks.Days;

/// <summary>The first plan of seeded days of growing size: time over the number of pieces, cold and warm, each plan checked.</summary>
internal static class DayGrowth
{
    public static int First(Arguments args) => Run(args, [60, 500]);

    public static int Growth(Arguments args) => Run(args, [20, 60, 125, 250, 500, 1000, 2000, 5000]);

    private static int Run(Arguments args, int[] otherwise)
    {
        var runs = (int)args.Number("runs", 5);
        var broken = 0;
        Console.WriteLine("pieces  cold ms  warm ms  processor ms  us per n log2 n   loads  shakes  left out  findings");
        foreach (var n in args.Numbers("n") ?? otherwise)
            broken += Measure(n, (ulong)args.Number("seed", 1), n >= 1000 ? 1 : runs);
        return broken == 0 ? 0 : 1;
    }

    private static int Measure(int pieces, ulong seed, int runs)
    {
        var day = DayMaker.Make(pieces, seed);
        var watch = Stopwatch.StartNew();
        var plan = DayPlanner.First(day);
        var cold = watch.Elapsed.TotalMilliseconds;
        // Warm: a few unmeasured runs first, so that the compiler has seen what is used most.
        for (var i = 0; i < (pieces <= 500 ? 30 : 0); i++)
            DayPlanner.First(day);
        var (best, processor) = (double.MaxValue, double.MaxValue);
        for (var i = 0; i < runs; i++)
        {
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            watch.Restart();
            DayPlanner.First(day);
            best = Math.Min(best, watch.Elapsed.TotalMilliseconds);
            processor = Math.Min(processor, (Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds);
        }
        var findings = PlanChecker.Check(day, plan).Count;
        var amount = plan.Objective.Parts.ToDictionary(p => p.Name, p => p.Amount);
        var perStep = processor * 1000 / (pieces * Math.Log2(Math.Max(2, pieces)));
        Console.WriteLine(
            FormattableString.Invariant(
                $"{pieces, 6} {cold, 8:F0} {best, 8:F1} {processor, 13:F1} {perStep, 16:F1} {amount["oven_loads"], 7} {amount["shakes"], 7} {plan.LeftOut.Count, 9} {findings, 9}"
            )
        );
        return findings;
    }
}
