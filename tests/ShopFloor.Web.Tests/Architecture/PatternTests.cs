using System.Reflection;
using System.Text.RegularExpressions;
using ShopFloor.Data;
using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Planning.DayPlans;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>Patterns that are matched have patience: their limit counts by the clock, and a busy machine may let a match stand still for a while.</summary>
public sealed class PatternTests
{
    private static readonly Assembly[] All =
    [
        typeof(Refusal).Assembly,
        typeof(DayPlanner).Assembly,
        typeof(PdfPaper).Assembly,
        typeof(ShopContext).Assembly,
        typeof(Program).Assembly,
    ];

    // Seen to fail with 200 ms at a size that is typed: the page was lost at a busy moment.
    [Fact]
    public void Patterns_EachLimit_IsLongEnoughForABusyMachine()
    {
        const BindingFlags any = BindingFlags.Static | BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic;
        var limits = All.SelectMany(a => a.GetTypes())
            .SelectMany(t => t.GetMethods(any | BindingFlags.DeclaredOnly))
            .Select(m => (Method: m, Pattern: m.GetCustomAttribute<GeneratedRegexAttribute>()))
            .Where(p => p.Pattern is not null)
            .ToList();
        Assert.NotEmpty(limits);
        Assert.All(limits, l => Assert.True(l.Pattern!.MatchTimeoutMilliseconds >= 10_000, $"{l.Method.DeclaringType}.{l.Method.Name}"));
    }
}
