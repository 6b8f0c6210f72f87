using System.Diagnostics;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Cli;

/// <summary>Plans a day file, checks the plan and writes it.</summary>
internal static class PlanCommand
{
    private const int ManyRounds = 1_000_000;

    public static int Run(CommandLine line, TextWriter output, TextWriter errors)
    {
        if (line.Option("rounds") is not null && line.Option("seconds") is not null)
            throw new BadInputException("Give --rounds or --seconds, not both: only rounds can be repeated.");
        var path = line.Required("out");
        var day = Files.Day(line.FileNames[0], out var sha);
        var seconds = line.Number("seconds", 0, 1, 100_000);
        var options = new PlanOptions
        {
            Seed = (ulong)line.Number("seed", 1, 0, long.MaxValue),
            Chains = (int)line.Number("chains", 2, 1, 64),
            Rounds = seconds > 0 ? ManyRounds : (int)line.Number("rounds", 20, 0, ManyRounds),
            DaySha256 = sha,
        };
        Files.CanWrite(path);
        var clock = Stopwatch.StartNew();
        // After the last round the best plans go on as line-ups, which takes about a third as long again.
        using var limit = seconds > 0 ? new CancellationTokenSource(TimeSpan.FromSeconds(0.75 * seconds)) : new CancellationTokenSource();
        using var wish = new StopWish(limit, errors);
        var plan = DayPlanner.Plan(day, options, wish.All, new ProgressLine(errors).Say, limit.Token);
        plan = plan with { TimingMs = clock.ElapsedMilliseconds };
        Files.Write(path, PlanWriter.Write(plan));
        Print(plan, output);
        return Commands.Report(PlanChecker.Check(day, plan, sha), output);
    }

    private static void Print(Plan plan, TextWriter output)
    {
        foreach (var part in plan.Objective.Parts)
            output.WriteLine($"{part.Name, -12} {part.Amount, 10} = {part.Points, 12} points, bound {part.Bound, 12}");
        var (value, bound) = (plan.Objective.Value, plan.Objective.Bound);
        var gap = value == 0 ? 0 : 100.0 * (value - bound) / value;
        output.WriteLine(
            string.Create(CultureInfo.InvariantCulture, $"{"value", -12} {"", 10}   {value, 12} points, bound {bound, 12}, gap {gap:0.0} %")
        );
        var s = plan.Search;
        output.WriteLine($"{s.Planner}, seed {s.Seed}, chains {s.Chains}, rounds {s.Rounds}, steps {s.Steps}, {plan.TimingMs} ms");
        foreach (var left in plan.LeftOut)
            output.WriteLine($"left out: {left.Piece}: {left.Reason}: {left.Text}");
        foreach (var pin in plan.UnmetPins)
            output.WriteLine($"pin not kept: {pin.Piece} step {pin.Step}: {pin.Text}");
    }
}
