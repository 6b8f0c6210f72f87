using System.Runtime.CompilerServices;
using Xunit.Abstractions;

namespace ShopFloor.Domain.Tests;

public sealed class CheckValueTests(ITestOutputHelper output)
{
    [Fact]
    public void EveryTopic_HasUniqueIdsAndNamedSources()
    {
        foreach (var topic in CheckValues.Topics)
        {
            var rows = CheckValues.Read(topic);
            Assert.Equal(rows.Count, rows.Select(r => r.Id).Distinct(StringComparer.Ordinal).Count());
            Assert.All(rows, r => Assert.NotEmpty(r.Source));
            Assert.All(rows, r => Assert.Contains(r.Seen, new[] { "seen", "from memory" }));
            output.WriteLine($"{topic}: {rows.Count(r => r.IsPublished)} published, {rows.Count(r => !r.IsPublished)} derived");
        }
    }

    [Fact]
    public void Count_OnTheSourcesPage_IsThatOfTheFiles()
    {
        static string Line(string name, IReadOnlyList<CheckRow> rows, string mark) =>
            $"| {mark}{name}{mark} | "
            + string.Join(
                " | ",
                new[]
                {
                    rows.Count,
                    rows.Count(r => r is { IsPublished: true, Seen: "seen" }),
                    rows.Count(r => r.IsPublished && r.Seen != "seen"),
                    rows.Count(r => !r.IsPublished),
                }.Select(n => $"{mark}{n}{mark}")
            )
            + " |";
        var said = File.ReadAllLines(SourcesPage());
        foreach (var topic in CheckValues.Topics)
            Assert.Contains(Line(topic, CheckValues.Read(topic), ""), said);
        Assert.Contains(Line("all", [.. CheckValues.Topics.SelectMany(CheckValues.Read)], "**"), said);
    }

    private static string SourcesPage([CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "docs", "sources.md");

    [Fact]
    public void Check_ValueOutsideTheTolerance_Fails()
    {
        var row = CheckValues.Read("wilson")[0];
        row.Check(row.Recomputed);
        Assert.ThrowsAny<Exception>(() => row.Check(row.Recomputed + (2 * row.Tolerance)));
    }
}
