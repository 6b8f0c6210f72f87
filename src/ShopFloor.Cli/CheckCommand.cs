using System.Text.Json;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Cli;

/// <summary>Checks a plan file against its day file; findings as lines, and as JSON when asked for.</summary>
internal static class CheckCommand
{
    private static readonly JsonSerializerOptions Form = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
    };

    public static int Run(CommandLine line, TextWriter output, TextWriter errors)
    {
        var day = Files.Day(line.FileNames[0], out var sha);
        var plan = Files.Plan(line.FileNames[1]);
        var findings = PlanChecker.Check(day, plan, sha);
        var form = PlanForm.Check(day, plan, Files.Bytes(line.FileNames[1]), line.FileNames[1]);
        var code = Write(line, output, findings);
        // What stands in another order than the format asks breaks no rule and can be read: a note, after the findings.
        foreach (var problem in form)
            errors.WriteLine($"note: {problem}");
        return code;
    }

    private static int Write(CommandLine line, TextWriter output, IReadOnlyList<Finding> findings)
    {
        var target = line.Option("json");
        var json = JsonSerializer.SerializeToUtf8Bytes(findings, Form);
        if (target == "-")
        {
            output.WriteLine(System.Text.Encoding.UTF8.GetString(json));
            return findings.Count == 0 ? Commands.Fine : Commands.Findings;
        }
        if (target is not null)
            Files.Write(target, json);
        return Commands.Report(findings, output);
    }
}
