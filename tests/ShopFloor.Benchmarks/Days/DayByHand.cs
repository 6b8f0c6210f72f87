using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Benchmarks.Days;

/// <summary>The planner beside what people do by hand: each order on its own, first come first served, overlapping wherever people and
/// stations are free. Loads and sessions hold one order's pieces only; each step still takes the earliest gap there is, and a round that
/// happens to be open is used by the next order too, which by hand would need more care than most days allow.</summary>
internal static class DayByHand
{
    private sealed record Measured(Plan Plan, long Loads, long Shakes, int FinishS, int Late, double LateHours);

    public static int Run(Arguments args)
    {
        var (days, rounds, seed) = ((int)args.Number("days", 10), (int)args.Number("rounds", 20), (ulong)args.Number("seed", 1));
        var broken = 0;
        Console.WriteLine("pieces  days        loads  bound      shakes    finish h     sooner   late pieces   late h (sum)  findings");
        Console.WriteLine("               hand  plan         hand  plan  hand  plan           hand   plan   hand     plan");
        foreach (var n in args.Numbers("n") ?? [20, 60])
            broken += Measure(n, days, rounds, seed);
        return broken == 0 ? 0 : 1;
    }

    private static int Measure(int n, int days, int rounds, ulong seed)
    {
        var (hand, plan, bound, broken) = (new List<Measured>(), new List<Measured>(), 0L, 0);
        for (var d = 0; d < days; d++)
        {
            var day = DayMaker.Make(n, seed + (ulong)d);
            hand.Add(Of(day, ByHand(day)));
            plan.Add(Of(day, DayPlanner.Plan(day, new PlanOptions { Rounds = rounds, Seed = seed })));
            bound += plan[^1].Plan.Objective.Parts.First(p => p.Name == "oven_loads").Bound / day.Weights.OvenLoads;
            broken += PlanChecker.Check(day, hand[^1].Plan).Count + PlanChecker.Check(day, plan[^1].Plan).Count;
        }
        double Mean(List<Measured> all, Func<Measured, double> what) => all.Average(what);
        var (h, p) = (Mean(hand, m => m.FinishS / 3600.0), Mean(plan, m => m.FinishS / 3600.0));
        Console.WriteLine(
            FormattableString.Invariant(
                $"{n, 6} {days, 5} {Mean(hand, m => m.Loads), 7:F1} {Mean(plan, m => m.Loads), 5:F1} {bound / (double)days, 6:F1} {Mean(hand, m => m.Shakes), 6:F1} {Mean(plan, m => m.Shakes), 5:F1} {h, 5:F1} {p, 5:F1} {100 * (h - p) / h, 6:F0} % {Mean(hand, m => m.Late), 6:F1} {Mean(plan, m => m.Late), 6:F1} {Mean(hand, m => m.LateHours), 6:F1} {Mean(plan, m => m.LateHours), 8:F1} {broken, 9}"
            )
        );
        return broken;
    }

    private static Measured Of(Day day, Plan plan)
    {
        var parts = plan.Objective.Parts.ToDictionary(p => p.Name, p => p.Amount);
        var ends = plan.Tasks.Where(t => t.Piece is not null).GroupBy(t => t.Piece!).ToDictionary(g => g.Key, g => g.Max(t => t.EndS ?? 0));
        var over = day.Pieces.Where(p => ends.ContainsKey(p.Id)).Sum(p => Math.Max(0L, ends[p.Id] - p.PromiseS));
        return new Measured(
            plan,
            parts["oven_loads"],
            parts["shakes"],
            (int)parts["finish_s"],
            (int)parts["late_pieces"] + plan.LeftOut.Count,
            over / 3600.0
        );
    }

    /// <summary>The plan made by hand.</summary>
    public static Plan ByHand(Day day)
    {
        var room = new Workroom(day);
        var groups = new List<Group>();
        foreach (var order in day.Pieces.Select(p => p.Order).Distinct().OrderBy(Number).ThenBy(o => o, StringComparer.Ordinal))
        {
            var others = room.Shop.Pieces.Select((p, i) => p.Order != order || room.LeftOut[i]).ToArray();
            groups.AddRange(new FirstPlan(room.Shop, room.Maker, room.Units, others).Make());
        }
        var note = new SearchNote("by hand", 0, 1, 0, 0, false);
        var bounds = PartBounds.None;
        return room.Plan(new Solution([.. groups], 0), Fingerprint.Sha256(DayWriter.Write(day)), note, bounds);
    }

    private static int Number(string order) =>
        int.TryParse(order.TrimStart('O'), NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : int.MaxValue;
}
