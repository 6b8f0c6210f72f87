using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Benchmarks.Days;

/// <summary>Tiny days: the planner's value beside the optimum of a full constraint model of the same day.</summary>
internal static class DayTiny
{
    public static int Run(Arguments args)
    {
        var (pieces, seeds) = ((int)args.Number("n", 4), (int)args.Number("seeds", 20));
        var (rounds, seconds, workers) = ((int)args.Number("rounds", 20), args.Number("seconds", 60), (int)args.Number("workers", 1));
        if (pieces is < 1 or > TinyModel.MostPieces)
            throw new InputFault($"The model is for 1 to {TinyModel.MostPieces} pieces.");
        var first = (int)args.Number("from", 1);
        Console.WriteLine("seed     planner       model       bound  proved  difference");
        var (proved, equal, worse, wrong) = (0, 0, 0, 0);
        for (var seed = first; seed < first + seeds; seed++)
        {
            var day = DayMaker.Make(pieces, (ulong)seed);
            var plan = DayPlanner.Plan(day, new PlanOptions { Rounds = rounds });
            var findings = PlanChecker.Check(day, plan).Count;
            var value = plan.Objective.Value;
            // A plan at least as good is asked for. Each second until the finish costs a point, so it ends before that many seconds.
            var answer = new TinyModel(day, (int)Math.Min(day.HorizonS, value)).Solve(seconds, workers, value);
            // The checker judges the model's plan too: a rule that it forgot, or a value that it got wrong, is found.
            if (args.TryText("out") is { } folder && answer.Value < value)
                Write(Directory.CreateDirectory(folder).FullName, seed, day, plan, answer.Plan!);
            findings += answer.Plan is { } other ? Broken(day, other) : 0;
            var impossible = findings > 0 || answer is { Value: null, Proved: true } || answer.Bound > value + 0.5;
            wrong += impossible ? 1 : 0;
            proved += answer.Proved && !impossible ? 1 : 0;
            equal += answer.Proved && answer.Value == value ? 1 : 0;
            worse += answer.Value < value ? 1 : 0;
            Console.WriteLine(
                FormattableString.Invariant(
                    $"{seed, 4} {value, 11} {answer.Value, 11} {answer.Bound, 11:F0} {(answer.Proved ? "yes" : "no"), 7} {value - answer.Value, 11}{(impossible ? "  the two disagree" : "")}"
                ) + (answer.Value < value ? Differences(day, plan, answer.Plan!) : "")
            );
        }
        Console.WriteLine(
            FormattableString.Invariant(
                $"{seeds} days of {pieces} pieces, {rounds} rounds: {proved} proved, planner equal on {equal} of them; model better on {worse}; {wrong} contradictions"
            )
        );
        return wrong == 0 ? 0 : 1;
    }

    /// <summary>The day and both plans, to look at with the console's <c>show</c>.</summary>
    private static void Write(string folder, int seed, Day day, Plan plan, Plan model)
    {
        string At(string kind) => Path.Combine(folder, FormattableString.Invariant($"{seed:000}-{kind}.json"));
        File.WriteAllBytes(At("day"), DayWriter.Write(day));
        File.WriteAllBytes(At("plan"), PlanWriter.Write(plan));
        File.WriteAllBytes(At("model"), PlanWriter.Write(model));
    }

    /// <summary>By which parts of the objective the planner is above the model.</summary>
    private static string Differences(Day day, Plan plan, Plan other) =>
        string.Concat(
            ObjectiveRules
                .Amounts(new Sheet(day, plan))
                .Zip(ObjectiveRules.Amounts(new Sheet(day, other)), Objective.Names)
                .Where(p => p.First != p.Second)
                .Select(p => FormattableString.Invariant($"  {p.Third} {p.First}/{p.Second}"))
        );

    private static int Broken(Day day, Plan plan)
    {
        var texts = PlanChecker.Check(day, plan).Where(f => f.Rule != "objective-wrong").Select(f => $"{f.Rule}: {f.Text}").ToList();
        var value = ObjectiveRules.Amounts(new Sheet(day, plan)).Zip(ObjectiveRules.Weights(day.Weights), (a, w) => a * w).Sum();
        if (value != plan.Objective.Value)
            texts.Add(FormattableString.Invariant($"value is {value}, not {plan.Objective.Value}"));
        foreach (var text in texts)
            Console.WriteLine("      model's plan: " + text);
        return texts.Count;
    }
}
