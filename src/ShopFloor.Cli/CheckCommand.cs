using System.Text.Json;
using ShopFloor.Planning.Checking;

namespace ShopFloor.Cli;

/// <summary>Checks a plan file against its day file; findings as lines, and as JSON when asked for.</summary>
internal static class CheckCommand
{
    private static readonly JsonSerializerOptions Form = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
    };

    public static int Run(CommandLine line, TextWriter output)
    {
        var day = Files.Day(line.FileNames[0], out var sha);
        var findings = PlanChecker.Check(day, Files.Plan(line.FileNames[1]), sha);
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
