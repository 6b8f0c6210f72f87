using System.Diagnostics;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Benchmarks.Days;

/// <summary>Promises for new orders of one to ten pieces beside open pieces that have a plan: time per question, and what the answers
/// are worth beside planning the whole day anew.</summary>
internal static class DayPromise
{
    public static int Run(Arguments args)
    {
        var (open, questions) = ((int)args.Number("open", 300), (int)args.Number("questions", 100));
        var day = DayMaker.Make(open, (ulong)args.Number("seed", 1));
        var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = (int)args.Number("rounds", 1), Chains = 1 });
        var promises = Promises.Prepare(day, plan);
        var orders = Enumerable.Range(1, questions).Select(q => Order(day, q)).ToList();
        foreach (var order in orders.Take(30))
            promises.Ask([order]);
        var (wall, processor, answered, sooner) = (new List<double>(), 0.0, 0, 0);
        foreach (var order in orders)
        {
            var before = Process.GetCurrentProcess().TotalProcessorTime;
            var watch = Stopwatch.StartNew();
            var promise = promises.Ask([order])[0];
            wall.Add(watch.Elapsed.TotalMilliseconds);
            processor += (Process.GetCurrentProcess().TotalProcessorTime - before).TotalMilliseconds;
            answered += promise.EndS is null ? 0 : 1;
            sooner += promise.EndS is { } end && end < day.Pieces.Max(p => p.PromiseS) ? 1 : 0;
        }
        wall.Sort();
        Console.WriteLine(
            FormattableString.Invariant(
                $"{open} open pieces, {questions} questions: answered {answered}, before the last promise {sooner}; ms per question: median {wall[wall.Count / 2]:F1}, 95th percentile {wall[(int)(wall.Count * 0.95)]:F1}, processor {processor / questions:F1}"
            )
        );
        return Check(day, plan, promises, orders.Take((int)args.Number("checked", 20)));
    }

    private static List<Piece> Order(Day day, int number) =>
        [
            .. DayMaker
                .Make(1 + (number * 7 % 10), (ulong)number)
                .Pieces.Select(p =>
                    p with
                    {
                        Order = "new",
                        Route = [.. p.Route.Select(s => s.Kind == StepKind.Tape ? s with { ReadyS = 5_400 } : s)],
                        PromiseS = day.HorizonS,
                    }
                ),
        ];

    /// <summary>Puts orders in for good: the checker must find nothing, and nobody may be made late.</summary>
    private static int Check(Day day, Plan plan, Promises promises, IEnumerable<List<Piece>> orders)
    {
        var (findings, moved, before) = (0, 0, PlanEnds.Of(plan));
        foreach (var order in orders)
            if (promises.With(order) is var (with, made))
            {
                findings += PlanChecker.Check(with, made).Count;
                var after = PlanEnds.Of(made);
                moved += day.Pieces.Count(p => before.TryGetValue(p.Id, out var was) && after[p.Id] > Math.Max(was, p.PromiseS));
            }
        Console.WriteLine($"findings {findings}, pieces made late {moved}");
        return findings + moved == 0 ? 0 : 1;
    }
}
