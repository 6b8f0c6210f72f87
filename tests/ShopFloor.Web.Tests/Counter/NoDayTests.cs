using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Localization;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Counter;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Architecture;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Why there is no day is said in the language of whoever stands at the Counter.</summary>
public sealed partial class NoDayTests
{
    [Fact]
    public void Plain_EveryReasonOfThePlan_HasASentenceOfItsOwnAndItsGerman()
    {
        string[] reasons = ["too large", "no station", "no window", "no coating", "no time", "waits for piece"];
        var said = reasons.Select(NoDayTexts.Plain).ToList();
        Assert.Equal(reasons.Length, said.Distinct(StringComparer.Ordinal).Count());
        InGerman(spoken => Assert.All(said, s => Assert.NotEqual(s, spoken[s])));
    }

    [Theory]
    [InlineData(
        "No can of clear that is still good holds the 14.8 ml that step 4 needs; the fullest has 3.25 ml.",
        "Keine haltbare Dose Klarlack enthält die 14,8 ml, die Schritt 4 braucht; in der vollsten sind 3,25 ml."
    )]
    [InlineData(
        "Too little clear is left once the other pieces are coated: 41 ml are missing.",
        "Sind die anderen Stücke beschichtet, ist zu wenig Klarlack übrig: Es fehlen 41 ml."
    )]
    [InlineData("No oven reaches the 162.5 °C of step 7.", "Kein Ofen erreicht die 162,5 °C von Schritt 7.")]
    [InlineData(
        "It is too large or too thick for every press that step 9 could use.",
        "Es ist zu groß oder zu dick für jede Presse, die Schritt 9 nutzen könnte."
    )]
    [InlineData(
        "No press takes a piece of the form that step 9 presses.",
        "Keine Presse nimmt ein Stück von der Form, die Schritt 9 presst."
    )]
    [InlineData(
        "No press for its form reaches the 187.5 °C of step 9.",
        "Keine Presse für seine Form erreicht die 187,5 °C von Schritt 9."
    )]
    [InlineData(
        "The rest before step 5 must end before it has lasted as long as it must.",
        "Die Ruhezeit vor Schritt 5 muss enden, bevor sie so lange gedauert hat, wie sie muss."
    )]
    public void Say_ThePlansOwnWords_AreTurned(string english, string german) => InGerman(spoken => Assert.Equal(german, spoken[english]));

    /// <summary>Every sentence in the source that says why one piece alone is left out, with something filled in.</summary>
    [Fact]
    public void Say_EveryReasonInTheSource_IsTurned()
    {
        var said = Sentence()
            .Matches(Tree.Text("src/ShopFloor.Planning/Day/Feasibility.cs"))
            .Select(m => Place().Replace(m.Groups["text"].Value.Replace("{word}", "oven", StringComparison.Ordinal), "4"))
            .Where(t => !t.StartsWith("It waits", StringComparison.Ordinal) && !t.StartsWith("It comes", StringComparison.Ordinal))
            .ToList();
        Assert.True(said.Count >= 8, $"Only {said.Count} were found.");
        InGerman(spoken => Assert.All(said, s => Assert.NotEqual(s, spoken[s])));
    }

    private static void InGerman(Action<Spoken> check)
    {
        var factory = new ResourceManagerStringLocalizerFactory(Options.Create(new LocalizationOptions()), NullLoggerFactory.Instance);
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
            check(new Spoken(new StringLocalizer<BenchTexts>(factory), new StringLocalizer<CounterTexts>(factory)));
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    [GeneratedRegex("""\$?"(?<text>[A-Z][^"]*\.)"[\);,\s]""", RegexOptions.NonBacktracking)]
    private static partial Regex Sentence();

    [GeneratedRegex(@"\{[^}]*\}", RegexOptions.NonBacktracking)]
    private static partial Regex Place();
}
