using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Microsoft.Extensions.Localization;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using ShopFloor.Domain.Glass;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Parts;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Counter;
using ShopFloor.Web.Shared;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Wall.Parts;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Bench and Wall in German: every fixed text is there, and sentences that were filled in elsewhere are turned by their form.</summary>
public sealed partial class SpokenTests
{
    private static readonly IReadOnlyDictionary<string, string> German = XDocument
        .Parse(string.Join('\n', Tree.Lines("src/ShopFloor.Web/Bench/BenchTexts.de.resx")))
        .Root!.Elements("data")
        .ToDictionary(d => d.Attribute("name")!.Value, d => d.Element("value")!.Value, StringComparer.Ordinal);

    [Fact]
    public void Texts_OfTheParts_AreAllThere()
    {
        var used =
            from folder in new[] { "src/ShopFloor.Web/Bench", "src/ShopFloor.Web/Wall" }
            from file in Tree.Files(folder, ".razor")
            from Match match in Key().Matches(string.Join('\n', Tree.Lines(file)))
            select match.Groups["key"].Value;
        Assert.Equal([], Missing(used));
    }

    [Fact]
    public void Texts_OfFaultsCallsCautionsAndSteps_AreAllThere()
    {
        var steps = ShippedRecipes.All.SelectMany(r => r.Steps).Append(FittedRecipe.Drying).ToList();
        var aluminium = ShippedMaterials.Find("al")!;
        IEnumerable<string> said =
        [
            .. FaultList.All.SelectMany(f => (string[])[f.Name, f.Looks, f.Cause, f.Remedy]),
            .. UrgencyRules.All.SelectMany(r => (string[])[r.Words, r.Response]),
            .. steps.SelectMany(s => Cautioned.For(s, aluminium, new())).Where(c => !c.StartsWith("Air from", StringComparison.Ordinal)),
            .. steps.Select(StepWords.Of),
            .. steps.Select(s => s.Note).Where(n => n.Length > 0 && !n.StartsWith("Thin", StringComparison.Ordinal)),
            .. Decisions.Reasons,
            .. Decisions.ReasonsWithoutTest,
            .. GiveBackPanel.OwnReasons,
            .. GiveBackPanel.BlankReasons,
            .. Enum.GetValues<PieceState>().Select(s => s.Words()),
            .. Enum.GetValues<BatchKind>().Select(StepWords.Of),
            .. Measured.CrossCuts.Select(c => c.Text).Where(t => !t.Contains('%', StringComparison.Ordinal)),
            .. Measured.Angles.Select(a => a.Text),
        ];
        Assert.Equal([], Missing(said));
    }

    [Fact]
    public void Texts_Places_AreTheSameInBothLanguages() =>
        Assert.All(
            German,
            t => Assert.Equal(Place().Matches(t.Key).Select(m => m.Value).Order(), Place().Matches(t.Value).Select(m => m.Value).Order())
        );

    [Theory]
    [InlineData("8 pieces", "8 Stück")]
    [InlineData("Cure L-31", "Einbrennen L-31")]
    [InlineData("8 pieces, Convection oven", "8 Stück, Convection oven")]
    [InlineData("then Spray clear, 3 pieces", "dann Klarlack sprühen, 3 Stück")]
    [InlineData("white · 69 ml · shake 60 s · C-015", "Weißgrund · 69 ml · schütteln 60 s · C-015")]
    [InlineData("40 pieces moved (order 6, 7)", "40 Stück verschoben (Auftrag 6, 7)")]
    [InlineData("rush order 17: 3 pieces received", "Eilauftrag 17: 3 Stück angenommen")]
    [InlineData("order 9: K3F7QX spoiled", "Auftrag 9: K3F7QX verdorben")]
    [InlineData("Convection oven cannot be used", "Convection oven nicht benutzbar")]
    [InlineData("new load B at 14:20", "neue Ofenladung B um 14:20")]
    [InlineData("15 to 20 min", "15 bis 20 min")]
    [InlineData(
        "The cure has run 3 min 5 s of at least 15 min 0 s: 11 min 55 s to go.",
        "Das Einbrennen lief 3 min 5 s von mindestens 15 min 0 s: noch 11 min 55 s."
    )]
    [InlineData(
        "L-3 is hot and shares the air of Booth: spray mist can catch fire. Wait until L-9 is out and the oven has cooled.",
        "L-3 ist heiß und teilt die Luft von Booth: Sprühnebel kann Feuer fangen. Warten Sie, bis L-9 heraus und der Ofen abgekühlt ist."
    )]
    [InlineData(
        "Oven still holds about 157 °C from L-9 and shares the air of Booth: spray mist can catch fire. Wait until it is below 60 °C, at about 10:42.",
        "Oven hat noch etwa 157 °C von L-9 und teilt die Luft von Booth: Sprühnebel kann Feuer fangen. Warten Sie, bis es unter 60 °C sind, gegen 10:42."
    )]
    [InlineData("11.8 ml: 48.2 ml laid side by side, 60 ml one by one", "11,8 ml: 48,2 ml nebeneinandergelegt, 60 ml einzeln")]
    [InlineData("laid side by side 11.8 ml less than one by one", "nebeneinandergelegt 11,8 ml weniger als einzeln")]
    [InlineData("Laid side by side, it saves", "Nebeneinandergelegt spart das")]
    [InlineData("12 pieces through Wipe promoter.", "12 Stück: Haftvermittler wischen fertig.")]
    [InlineData("Wipe VDDFWF", "Wischen VDDFWF")]
    [InlineData("Flash-off PTNJDX", "Ablüften PTNJDX")]
    [InlineData("Shake A, White base", "Schütteln A, White base")]
    [InlineData("Glass, ordinary, 180 × 130 × 3 mm, behind glass", "Glas, gewöhnlich, 180 × 130 × 3 mm, hinter Glas")]
    [InlineData("Glass, ordinary, 180 × 130 × 3.5 mm, behind glass", "Glas, gewöhnlich, 180 × 130 × 3,5 mm, hinter Glas")]
    [InlineData("Convection oven, shelf 1: 8 pieces", "Convection oven, Boden 1: 8 Stück")]
    [InlineData("Free lot 24.117", "Charge 24.117 freigeben")]
    [InlineData(
        "None of 3 pieces fits: 2 standing at Clean; 1 held.",
        "Keines von 3 Stück passt: 2 stehen bei Reinigen; 1 beiseitegelegt."
    )]
    [InlineData("2 of 5 pieces fit, 3 do not: 3 wanting 170 °C.", "2 von 5 Stück passen, 3 nicht: 3 brauchen 170 °C.")]
    [InlineData("12 pieces started: Clean.", "12 Stück begonnen: Reinigen.")]
    [InlineData("4 pieces started in R-3.", "4 Stück begonnen in R-3.")]
    [InlineData("50 to 70 s", "50 bis 70 s")]
    [InlineData("10 pieces came in.", "10 Stück angekommen.")]
    [InlineData("then spray matt, coat 2 of 2, 3 pieces", "dann Mattlack sprühen, Schicht 2 von 2, 3 Stück")]
    [InlineData(
        "3 × K3F7QX, VDDFWF: The print is dry at 10:42: damp, it blots in the press. Wait, or say why it is dry already.",
        "3 × K3F7QX, VDDFWF: Der Druck ist um 10:42 trocken: Feucht verläuft er in der Presse. Warten Sie, oder sagen Sie, warum er schon trocken ist."
    )]
    [InlineData(
        "Air from 16.5 °C to 25 °C, humidity at most 65 %: outside of that let it flash off longer.",
        "Luft von 16,5 °C bis 25 °C, Feuchte höchstens 65 %: sonst länger ablüften lassen."
    )]
    [InlineData(
        "The print is of 20.11.2026 and stays good for 7 days: after that it may come out pale or blurred. Print it again, or say why it is still good.",
        "Der Druck ist vom 20.11.2026 und hält 7 Tage: Danach kann er blass oder verwaschen werden. Drucken Sie ihn neu, oder sagen Sie, warum er noch gut ist."
    )]
    [InlineData("hot: K3F7QX; cold: VDDFWF", "heiß: K3F7QX; kalt: VDDFWF")]
    [InlineData("closed from 30 November to 1 December", "geschlossen vom 30. November bis 1. Dezember")]
    [InlineData("other hours on 24 December", "andere Zeiten am 24. Dezember")]
    [InlineData("Ida wrote this herself", "Ida wrote this herself")]
    public void Say_WhatWasFilledInElsewhere_IsTurnedByItsForm(string english, string german)
    {
        var (spoken, before) = (New(), CultureInfo.CurrentUICulture);
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
            Assert.Equal(german, spoken[english]);
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("en-GB");
            Assert.Equal(english, spoken[english]);
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    // Law: whatever key has places is found again in the finished sentence, by itself and said of a piece.
    [Fact]
    public void Say_EveryKeyWithPlaces_IsTurnedAloneAndNamed()
    {
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
            var spoken = New();
            string[] figures = ["7", "8", "9", "11", "12", "13", "14"];
            foreach (var (key, value) in German.Where(t => Place().IsMatch(t.Key)))
                Assert.Equal(
                    string.Format(CultureInfo.InvariantCulture, value, figures),
                    spoken[string.Format(CultureInfo.InvariantCulture, key, figures)]
                );
            foreach (var (key, value) in German.Where(t => t.Key.EndsWith('.')))
            {
                var (english, german) = (
                    string.Format(CultureInfo.InvariantCulture, key, figures),
                    string.Format(CultureInfo.InvariantCulture, value, figures)
                );
                Assert.Equal($"VDDFWF: {german}", spoken[$"VDDFWF: {english}"]);
            }
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    [Theory]
    [InlineData("due: Convection oven", "Darf heraus: Convection oven")]
    [InlineData("near: since wipe promoter", "Endet bald: Seit Haftvermittler wischen")]
    [InlineData("over: flash-off", "Zu lange: Ablüften")]
    [InlineData("promises", "Zusagen")]
    [InlineData("pieces put aside", "beiseitegelegte Stücke")]
    public void Source_OfCalls_IsSaidInWords(string source, string german)
    {
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
            Assert.Equal(german, New()[UrgencyRules.Words(source)]);
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    [Theory]
    [InlineData("Put it aside", "Beiseitelegen")]
    [InlineData("Report it as spoiled", "Als verdorben melden")]
    [InlineData("Put aside", "Beiseitegelegt")]
    [InlineData("Label and tray card", "Etikett und Tablettkarte")]
    public void Word_OfWhatIsDone_IsNoState(string english, string german) => Assert.Equal(german, German[english]);

    [Theory]
    [InlineData(false, false)]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void Drawing_InGerman_IsAsWideAsItsLongestWord(bool below, bool wraps)
    {
        var layers = LayUpLines.Of(new LayUp(below, false, "") { Wraps = wraps });
        var width = LayUpLines.Width(layers.Select(l => German[l.Word]));
        Assert.All(layers, l => Assert.True(188 + German[l.Word].Length * 8 <= width));
        Assert.Equal(360, LayUpLines.Width(["piece"]));
    }

    [Theory]
    [InlineData("en-GB", 0, "09:30")]
    [InlineData("en-GB", 1, "tomorrow 09:30")]
    [InlineData("de-DE", 1, "morgen 09:30")]
    [InlineData("en-GB", -1, "yesterday 09:30")]
    [InlineData("en-GB", 3, "Fri 09:30")]
    [InlineData("de-DE", 3, "Fr 09:30")]
    [InlineData("en-GB", 20, "6 Mar 09:30")]
    public void WallTime_OfAnotherDay_HasTheDayBeforeIt(string culture, int days, string said)
    {
        var before = (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture);
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo(culture);
            var at = new WallMoment(new DateTimeOffset(2026, 3, 6, 9, 30, 0, TimeSpan.Zero), days);
            Assert.Equal(said, WallTime.Of(at, TimeZoneInfo.Utc, New()));
        }
        finally
        {
            (CultureInfo.CurrentCulture, CultureInfo.CurrentUICulture) = before;
        }
    }

    [Theory]
    [InlineData(900, 1200, "15 to 20 min")]
    [InlineData(960, 1259, "16 to 20 min")]
    [InlineData(230, 250, "3:50 to 4:10 min")]
    [InlineData(601, 630, "10:01 to 10:30 min")]
    [InlineData(50, 70, "50 to 70 s")]
    public void Window_Long_IsSaidInWholeMinutesInsideIt(int min, int max, string said) => Assert.Equal(said, StepWords.Window(min, max));

    [Fact]
    public void Say_TheCardOfHotGlass_IsTurned()
    {
        var before = CultureInfo.CurrentUICulture;
        try
        {
            CultureInfo.CurrentUICulture = CultureInfo.GetCultureInfo("de");
            var spoken = New();
            Assert.All(CoolingCard.Lines(GlassKind.Annealed, 3, 190, 20).Value, line => Assert.NotEqual(line, spoken[line]));
        }
        finally
        {
            CultureInfo.CurrentUICulture = before;
        }
    }

    private static Spoken New()
    {
        var texts = new ResourceManagerStringLocalizerFactory(Options.Create(new LocalizationOptions()), NullLoggerFactory.Instance);
        return new Spoken(new StringLocalizer<BenchTexts>(texts), new StringLocalizer<CounterTexts>(texts));
    }

    private static List<string> Missing(IEnumerable<string> said) =>
        [.. said.Distinct().Where(k => !German.ContainsKey(k) && !German.ContainsKey(char.ToUpperInvariant(k[0]) + k[1..]))];

    [GeneratedRegex("""\bT\["(?<key>(?:[^"\\]|\\.)+)"[],]""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Key();

    [GeneratedRegex(@"\{\d\}", RegexOptions.None, 1000)]
    private static partial Regex Place();
}
