using System.Text.RegularExpressions;
using ShopFloor.Web.Tests.Architecture;

namespace ShopFloor.Web.Tests.Look;

/// <summary>Contrast of the colours by the formula of WCAG 2.2 (relative luminance, SC 1.4.3 and 1.4.11), by daylight and in the dark.</summary>
public sealed partial class PaletteTests
{
    private const double Text = 4.5;
    private const double Edge = 3.0;
    private const string Folder = "src/ShopFloor.Web/wwwroot/look/";

    private static readonly (string Front, string Back, double Least)[] Pairs =
    [
        .. from front in (string[])["ink", "ink-2", "accent", "accent-deep", "stop"]
        from back in (string[])["ground", "sheet", "sunken"]
        select (front, back, Text),
        .. from front in (string[])["ink", "accent", "accent-deep"] select (front, "accent-soft", Text),
        ("on-accent", "accent", Text),
        ("on-accent", "accent-deep", Text),
        ("on-stop", "stop", Text),
        .. from state in (string[])["ok", "run", "warn", "stop"]
        from front in (string[])[state, "ink"]
        select (front, state + "-soft", Text),
        .. from state in (string[])["ok", "run", "warn", "stop"] from back in (string[])["ground", "sheet"] select (state, back, Text),
        ("ground", "ink", Text),
        ("paper-ink", "paper", Text),
        .. from edge in (string[])["line", "focus", "accent"]
        from back in (string[])["ground", "sheet", "sunken"]
        select (edge, back, Edge),
    ];

    [Theory]
    [InlineData("light.css")]
    [InlineData("dark.css")]
    public void Pairs_InUse_HaveEnoughContrast(string file)
    {
        var colours = Read(file);
        var weak =
            from pair in Pairs
            let ratio = Ratio(colours[pair.Front], colours[pair.Back])
            where ratio < pair.Least
            select FormattableString.Invariant($"{pair.Front} on {pair.Back}: {ratio:0.00}, wanted {pair.Least}");
        Assert.Empty(weak);
    }

    // A bar of its own colour, whose button must not take the colours of buttons elsewhere.
    [Theory]
    [InlineData("light.css", ".undo .button:hover {")]
    [InlineData("dark.css", ".undo .button:hover {")]
    [InlineData("light.css", ".button[aria-disabled=\"true\"]:hover {")]
    [InlineData("dark.css", ".button[aria-disabled=\"true\"]:hover {")]
    public void Buttons_UnderThePointer_NameBothColoursAndCanBeRead(string file, string rule)
    {
        var styles = Tree.Text(Folder + "controls.css");
        var at = styles.IndexOf(rule, StringComparison.Ordinal);
        Assert.True(at >= 0, $"{rule} is missing.");
        var body = styles[at..styles.IndexOf('}', at)];
        var (back, front) = (Used("background").Match(body).Groups["name"].Value, Used("color").Match(body).Groups["name"].Value);
        var colours = Read(file);
        Assert.True(Ratio(colours[front], colours[back]) >= Text, $"{front} on {back}");
    }

    [Fact]
    public void Files_Names_AreTheSame() => Assert.Equal(Names("light.css"), Names("dark.css"));

    [Theory]
    [InlineData("light.css")]
    [InlineData("dark.css")]
    public void Triples_ForTheComponentLibrary_AreTheSameColours(string file)
    {
        var colours = Read(file);
        foreach (Match triple in Triple().Matches(Tree.Text(Folder + file)))
        {
            var (r, g, b) = colours[triple.Groups["name"].Value];
            Assert.Equal($"{r}, {g}, {b}", triple.Groups["value"].Value);
        }
    }

    // The formula gives what the recommendation itself states: 21 for black on white, and 4.54 for #767676 on white.
    [Fact]
    public void Ratio_KnownPairs_AreThePublishedOnes()
    {
        Assert.Equal(21.0, Ratio((0, 0, 0), (255, 255, 255)), 2);
        Assert.Equal(4.54, Ratio((0x76, 0x76, 0x76), (255, 255, 255)), 2);
    }

    private static Regex Used(string property) =>
        new($@"^\s+{property}: var\(--(?<name>[a-z0-9-]+)\);", RegexOptions.Multiline, TimeSpan.FromSeconds(1));

    private static Dictionary<string, (int R, int G, int B)> Read(string file) =>
        Hex()
            .Matches(Tree.Text(Folder + file))
            .ToDictionary(m => m.Groups["name"].Value, m => (Byte(m, 0), Byte(m, 2), Byte(m, 4)), StringComparer.Ordinal);

    private static List<string> Names(string file) => [.. Name().Matches(Tree.Text(Folder + file)).Select(m => m.Value)];

    private static int Byte(Match match, int at) => Convert.ToInt32(match.Groups["hex"].Value.Substring(at, 2), 16);

    private static double Ratio((int, int, int) a, (int, int, int) b)
    {
        var (x, y) = (Luminance(a), Luminance(b));
        return (Math.Max(x, y) + 0.05) / (Math.Min(x, y) + 0.05);
    }

    private static double Luminance((int R, int G, int B) c) => 0.2126 * Linear(c.R) + 0.7152 * Linear(c.G) + 0.0722 * Linear(c.B);

    private static double Linear(int value)
    {
        var s = value / 255.0;
        return s <= 0.04045 ? s / 12.92 : Math.Pow((s + 0.055) / 1.055, 2.4);
    }

    [GeneratedRegex("--(?<name>[a-z0-9-]+): #(?<hex>[0-9a-f]{6});", RegexOptions.None, 1000)]
    private static partial Regex Hex();

    [GeneratedRegex(@"--(?<name>[a-z0-9-]+)-rgb: (?<value>\d+, \d+, \d+);", RegexOptions.None, 1000)]
    private static partial Regex Triple();

    [GeneratedRegex("--[a-z0-9-]+(?=:)", RegexOptions.None, 1000)]
    private static partial Regex Name();
}
