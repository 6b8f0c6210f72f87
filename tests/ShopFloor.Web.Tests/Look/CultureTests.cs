using System.Text.RegularExpressions;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Architecture;

namespace ShopFloor.Web.Tests.Look;

/// <summary>One clock for screens, papers and mails, whatever language somebody reads and whatever a browser is used to.</summary>
public sealed partial class CultureTests
{
    private static readonly DateTime Afternoon = new(2026, 3, 6, 14, 5, 0);

    [Theory]
    [InlineData("en-GB", "14:05")]
    [InlineData("en-US", "2:05 PM")]
    public void All_WhateverTheLanguage_TellTheTimeAsTheWorkshopDoes(string workshop, string clock) =>
        Assert.All(
            new ShopCultures(workshop).All,
            c =>
                Assert.Equal(
                    (clock, true),
                    (Plain(Afternoon.ToString("t", c)), Plain(Afternoon.ToString("g", c)).EndsWith(clock, StringComparison.Ordinal))
                )
        );

    [Fact]
    public void For_AnotherEnglishThanTheWorkshops_IsTheWorkshops()
    {
        var cultures = new ShopCultures("en-GB");
        Assert.Equal(["en-GB", "de-DE"], cultures.All.Select(c => c.Name));
        Assert.Equal(("en-GB", "de-DE", null), (cultures.For("en-US")?.Name, cultures.For("DE-at")?.Name, cultures.For("fr")?.Name));
    }

    /// <summary>Seen to fail with <c>HH:mm</c> put back on the Wall. Files, addresses and the browser's own time field keep their fixed form.</summary>
    [Fact]
    public void Clock_InNoPage_IsWrittenByAFixedPattern()
    {
        var own =
            from file in Tree.Files("src/ShopFloor.Web", ".razor", ".cs")
            where !file.EndsWith("PersonForm.cs", StringComparison.Ordinal) && !file.EndsWith("CsvText.cs", StringComparison.Ordinal)
            from line in Tree.Lines(file)
            where Fixed().IsMatch(line)
            select $"{file}: {line.Trim()}";
        Assert.Equal([], own.ToList());
    }

    // Some cultures put a narrow space before AM and PM.
    private static string Plain(string text) => text.Replace('\u202f', ' ').Replace('\u00a0', ' ');

    [GeneratedRegex("HH:mm|hh:mm|h:mm", RegexOptions.CultureInvariant, 1000)]
    private static partial Regex Fixed();
}
