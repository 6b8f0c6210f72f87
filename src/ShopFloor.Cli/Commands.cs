using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Cli;

/// <summary>The console: plan, check, make-day, show. Exit codes: 0 fine, 1 findings, 2 bad input.</summary>
internal static class Commands
{
    public const int Fine = 0;
    public const int Findings = 1;
    public const int BadInput = 2;

    private const string Usage = """
        ShopFloor plans a workshop's day.

          plan DAY.json --out PLAN.json [--rounds N | --seconds S] [--seed S] [--chains N]
          check DAY.json PLAN.json [--json FINDINGS.json | --json -]
          make-day --pieces N --seed S --out DAY.json [--awkward true]
          show DAY.json PLAN.json

        Exit codes: 0 fine, 1 the checker has findings, 2 bad input.
        """;

    public static int Run(string[] args, TextWriter output, TextWriter errors)
    {
        try
        {
            return args.FirstOrDefault() switch
            {
                "plan" => PlanCommand.Run(new CommandLine(args[1..], 1, "out", "rounds", "seconds", "seed", "chains"), output, errors),
                "check" => CheckCommand.Run(new CommandLine(args[1..], 2, "json"), output, errors),
                "make-day" => MakeDay(new CommandLine(args[1..], 0, "pieces", "seed", "out", "awkward"), output),
                "show" => ShowCommand.Run(new CommandLine(args[1..], 2), output),
                "help" or "--help" or "-h" => Help(output),
                null => throw new BadInputException("Say what to do." + Environment.NewLine + Usage),
                var other => throw new BadInputException($"There is no command '{other}'." + Environment.NewLine + Usage),
            };
        }
        catch (BadInputException bad)
        {
            errors.WriteLine(bad.Message);
            return BadInput;
        }
    }

    private static int Help(TextWriter output)
    {
        output.WriteLine(Usage);
        return Fine;
    }

    private static int MakeDay(CommandLine line, TextWriter output)
    {
        var (pieces, seed) = (line.Number("pieces", null, 1, 20_000), line.Number("seed", 1, 0, long.MaxValue));
        var day = DayMaker.Make((int)pieces, (ulong)seed, line.Option("awkward") == "true");
        Files.Write(line.Required("out"), DayWriter.Write(day));
        output.WriteLine($"{day.Pieces.Count} pieces, {day.People.Count} people, {day.Stations.Count} stations");
        return Fine;
    }

    /// <summary>Checks a plan that was just made, or one from a file, and prints the findings as lines.</summary>
    public static int Report(IReadOnlyList<Finding> findings, TextWriter output)
    {
        foreach (var f in findings)
            output.WriteLine($"{f.Rule}: {f.Text}{Concerning(f)}");
        output.WriteLine(findings.Count == 0 ? "no findings" : $"{findings.Count} findings");
        return findings.Count == 0 ? Fine : Findings;
    }

    private static string Concerning(Finding f)
    {
        var parts = new List<string>();
        if (f.Tasks.Count > 0)
            parts.Add("tasks " + string.Join(',', f.Tasks));
        if (f.Pieces.Count > 0)
            parts.Add("pieces " + string.Join(',', f.Pieces));
        if (f.Batches.Count > 0)
            parts.Add("batches " + string.Join(',', f.Batches));
        return parts.Count == 0 ? "" : $" [{string.Join("; ", parts)}]";
    }
}
