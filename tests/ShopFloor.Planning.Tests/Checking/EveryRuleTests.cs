using System.Text.RegularExpressions;
using ShopFloor.Planning.Checking;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Checking;

/// <summary>Good plans of several sizes and seeds are broken in every way that the format allows, one rule at a time; the checker must name that
/// rule each time. No rule of the documented list may be without such a way.</summary>
public sealed partial class EveryRuleTests
{
    /// <summary>So many places of each plan are tried for each way, spread over the plan.</summary>
    private const int Tried = 6;

    private static readonly List<(string Rule, string Name, Func<Changed, IEnumerable<Changed>> Make)> Ways =
    [
        .. WaysOfThePlan.All,
        .. WaysOfTheBatches.All,
    ];

    private static readonly Lazy<List<Changed>> Good = new(() =>
        [
            .. new[] { (3, 1, false), (6, 2, true), (12, 3, false), (18, 4, true), (30, 5, false) }.Select(p =>
                Made(p.Item1, (ulong)p.Item2, p.Item3)
            ),
        ]
    );

    private static Changed Made(int pieces, ulong seed, bool awkward)
    {
        var day = DayMaker.Make(pieces, seed, awkward);
        return new Changed(day, DayPlanner.First(day));
    }

    public static TheoryData<string, string> Names()
    {
        var data = new TheoryData<string, string>();
        foreach (var (rule, name, _) in Ways)
            data.Add(rule, name);
        return data;
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Check_GoodPlanBrokenInOneWay_NamesTheRule(string rule, string name)
    {
        var way = Ways.Single(w => w.Rule == rule && w.Name == name);
        var tried = 0;
        foreach (var good in Good.Value)
        foreach (var broken in Spread([.. way.Make(good)]))
        {
            tried++;
            var sha = ReferenceEquals(broken.Day, good.Day) ? good.Plan.DaySha256 : Fingerprint.Sha256(DayWriter.Write(broken.Day));
            var findings = PlanChecker.Check(broken.Day, broken.Plan with { DaySha256 = sha }, sha);
            Assert.True(
                findings.Any(f => f.Rule == rule),
                $"{rule}, {name}: not named on the day of {good.Day.Pieces.Count}, try {tried}; named: {string.Join(", ", findings.Select(f => f.Rule).Distinct())}"
            );
        }
        Assert.True(tried > 0, $"{rule}, {name}: no plan could be broken so");
    }

    [Fact]
    public void Check_GoodPlans_HaveNoFindings() => Assert.All(Good.Value, g => Assert.Empty(PlanChecker.Check(g.Day, g.Plan)));

    [Fact]
    public void Ways_EveryDocumentedRule_IsBrokenByAtLeastOne()
    {
        var rules = Documented();
        Assert.Equal(50, rules.Count);
        var broken = Ways.Select(w => w.Rule).Append("day-differs").ToHashSet(StringComparer.Ordinal);
        Assert.Equal(rules.Order(StringComparer.Ordinal), broken.Order(StringComparer.Ordinal));
    }

    /// <summary>What the documentation of the formats lists as rules.</summary>
    private static List<string> Documented()
    {
        var text = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Docs", "formats.md"));
        var from = text.IndexOf("\n## The rules", StringComparison.Ordinal);
        var table = text[from..text.IndexOf("How the checker reads", from, StringComparison.Ordinal)];
        return [.. RuleName().Matches(table).Select(m => m.Groups["rule"].Value).Distinct(StringComparer.Ordinal)];
    }

    [GeneratedRegex("`(?<rule>[a-z]+(-[a-z]+)+)`", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex RuleName();

    private static IEnumerable<Changed> Spread(List<Changed> all) =>
        all.Count <= Tried ? all : Enumerable.Range(0, Tried).Select(i => all[i * (all.Count - 1) / (Tried - 1)]);
}
