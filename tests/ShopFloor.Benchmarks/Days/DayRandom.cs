using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;

namespace ShopFloor.Benchmarks.Days;

/// <summary>Many seeded days, ordinary and awkward ones in turn, each planned and checked: not one rule may be broken.</summary>
internal static class DayRandom
{
    private sealed record Found(int Findings, int LeftOut, string Text);

    public static int Run(Arguments args)
    {
        var (days, rounds, seed) = ((int)args.Number("days", 100), (int)args.Number("rounds", 1), (ulong)args.Number("seed", 1));
        Console.WriteLine("pieces  days  ordinary left out  awkward left out  findings");
        var broken = 0;
        foreach (var n in args.Numbers("n") ?? [20, 60, 200])
        {
            var found = new Found[days];
            Parallel.For(
                0,
                days,
                new ParallelOptions { MaxDegreeOfParallelism = 2 },
                d => found[d] = One(n, seed + (ulong)d, d % 2 == 1, rounds)
            );
            var findings = found.Sum(f => f.Findings);
            broken += findings;
            var (ordinary, awkward) = (
                found.Where((_, d) => d % 2 == 0).Sum(f => f.LeftOut),
                found.Where((_, d) => d % 2 == 1).Sum(f => f.LeftOut)
            );
            Console.WriteLine(FormattableString.Invariant($"{n, 6} {days, 5} {ordinary, 18} {awkward, 17} {findings, 9}"));
            foreach (var text in found.Where(f => f.Findings > 0).Select(f => f.Text).Take(10))
                Console.WriteLine("  " + text);
        }
        return broken == 0 ? 0 : 1;
    }

    private static Found One(int pieces, ulong seed, bool awkward, int rounds)
    {
        var day = DayMaker.Make(pieces, seed, awkward);
        var plan = DayPlanner.Plan(
            day,
            new PlanOptions
            {
                Rounds = rounds,
                Chains = 1,
                Seed = seed,
            }
        );
        var findings = PlanChecker.Check(day, plan);
        var text = findings.Count == 0 ? "" : FormattableString.Invariant($"seed {seed}: {findings[0].Rule}: {findings[0].Text}");
        return new Found(findings.Count, plan.LeftOut.Count, text);
    }
}
