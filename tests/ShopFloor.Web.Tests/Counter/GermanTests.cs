using System.Text.RegularExpressions;
using System.Xml.Linq;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Tests.Architecture;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>The second language is complete: every sentence that the customers' pages can say has its German. Seen to fail with a line taken out.</summary>
public sealed partial class GermanTests
{
    private const string Folder = "src/ShopFloor.Web/Counter";

    private static readonly IReadOnlyDictionary<string, string> German = XDocument
        .Parse(string.Join('\n', Tree.Lines($"{Folder}/CounterTexts.de.resx")))
        .Root!.Elements("data")
        .ToDictionary(d => d.Attribute("name")!.Value, d => d.Element("value")!.Value, StringComparer.Ordinal);

    [Fact]
    public void Texts_OfTheCountersPages_AreAllThere()
    {
        var used =
            from file in Tree.Files(Folder, ".razor", ".cs")
            from Match match in Key().Matches(string.Join('\n', Tree.Lines(file)))
            select match.Groups["key"].Value;
        Assert.Equal([], used.Distinct().Where(k => !German.ContainsKey(k)).ToList());
    }

    [Fact]
    public void Texts_OfMaterialsQuestionsAndReasons_AreAllThere()
    {
        var sheets = ShippedMaterials.All.Append(ShippedMaterials.Unknown).ToList();
        var questions =
            from kind in Enum.GetValues<MaterialClass>()
            from form in Enum.GetValues<Form>()
            from question in HiddenPartQuestion.For(kind, form)
            select question.Question;
        // Only what is not taken is said to a customer.
        var reasons = sheets.SelectMany(s => (HeatRule[])[s.Cure, s.Press]).Where(r => r.At(200) != Verdict.Take).Select(r => r.Reason);
        var coats = new[] { Answer.Yes, Answer.Unknown }
            .Select(a => Suitability.Judge(ShippedMaterials.Find("al")!, 160, 190, Form.Flat, HiddenParts.None with { OldCoat = a }))
            .Select(j => j.Value.Value.Findings[0].Reason)
            .Concat(new Answer?[] { Answer.No, Answer.Yes, Answer.Unknown }.Select(ShopFloor.Web.Counter.Steps.HiddenQuestions.CoatWord));
        var said = sheets.Select(s => s.Name).Concat(questions).Concat(reasons).Concat(coats).Distinct();
        Assert.Equal([], said.Where(k => !German.ContainsKey(k)).ToList());
    }

    [Fact]
    public void Texts_OfStepsFinishesAndAgreements_AreAllThere()
    {
        var said = CounterSteps
            .All.SelectMany(s => (string[])[StepWords.Title(s), StepWords.Short(s)])
            .Concat(Enum.GetValues<Finish>().SelectMany(f => (string[])[f.Words(), FinishTexts.Note(f)]))
            .Concat([Wordings.Contact, Wordings.Rights, Wordings.Risk, Wordings.Coarse]);
        Assert.Equal([], said.Where(k => !German.ContainsKey(k)).ToList());
    }

    /// <summary>A finish has one name: what the customer chose is what the Bench works by and what the invoice says.</summary>
    [Theory]
    [InlineData("en")]
    [InlineData("de")]
    public void Finish_AtTheCounterTheBenchAndOnPapers_HasOneName(string language)
    {
        string In<T>(string key) =>
            language == "en"
                ? key
                : new System.Resources.ResourceManager(typeof(T)).GetString(key, CultureInfo.GetCultureInfo(language)) ?? key;
        foreach (var finish in Enum.GetValues<Finish>())
        {
            var paper = ShopFloor.Documents.Letters.LetterReader.Of(language).Say(finish.Words().ToLowerInvariant());
            Assert.Equal(paper, In<ShopFloor.Web.Counter.CounterTexts>(finish.Words()), ignoreCase: true);
            Assert.Equal(paper, In<ShopFloor.Web.Bench.BenchTexts>(ShopFloor.Web.Bench.Moves.StepWords.Of(finish)), ignoreCase: true);
        }
    }

    /// <summary>Sentences that code hands to a page: refusals, and words chosen by a state.</summary>
    [Fact]
    public void Texts_OfRefusalsAndStates_AreAllThere()
    {
        var said =
            from file in Tree.Files(Folder, ".razor", ".cs")
            from Match match in Handed().Matches(string.Join('\n', Tree.Lines(file)))
            select match.Groups["key"].Value;
        Assert.Equal([], said.Where(k => k.Contains(' ', StringComparison.Ordinal) && !German.ContainsKey(k)).Distinct().ToList());
    }

    [Fact]
    public void Texts_Places_AreTheSameInBothLanguages() => Assert.All(German, t => Assert.Equal(Places(t.Key), Places(t.Value)));

    private static IEnumerable<string> Places(string text) =>
        Place().Matches(text).Select(m => m.Value).Distinct().Order(StringComparer.Ordinal);

    [GeneratedRegex("""(?:\bT|texts)\["(?<key>(?:[^"\\]|\\.)+)"|new Fault\("\w+", "(?<key>[^"]+)"\)""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Key();

    [GeneratedRegex("""new Refusal\(\s*"[^"]+",\s*"(?<key>[^"]+)"|=>\s*"(?<key>[^"]+)",""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Handed();

    [GeneratedRegex(@"\{\d\}", RegexOptions.None, 1000)]
    private static partial Regex Place();
}
