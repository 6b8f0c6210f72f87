namespace ShopFloor.Web.Tests.Architecture;

/// <summary>Words that must not stand in the program. Seen to fail with a DateTime.Now in a page and an empty catch.</summary>
public sealed class TextTests
{
    // Time comes from TimeProvider; ids are time-ordered; a catch says why.
    private static readonly (string Text, string Why)[] Banned =
    [
        ("DateTime.Now", "time comes from TimeProvider"),
        ("DateTime.UtcNow", "time comes from TimeProvider"),
        ("DateTimeOffset.Now", "time comes from TimeProvider"),
        ("DateTimeOffset.UtcNow", "time comes from TimeProvider"),
        ("Thread.Sleep", "nothing waits by sleeping"),
        ("#region", "no regions"),
        ("#pragma warning disable", "a suppression needs an attribute with a reason"),
        ("NotImplementedException", "no stub is called done"),
        ("catch { }", "no error is swallowed"),
        ("dynamic ", "no dynamic"),
        ("GetTempPath", "files for a while lie aside in the data folder: the system's place may be memory"),
        ("GetTempFileName", "files for a while lie aside in the data folder: the system's place may be memory"),
        ("CreateTempSubdirectory", "files for a while lie aside in the data folder: the system's place may be memory"),
    ];

    [Fact]
    public void Sources_Text_HasNoneOfTheBannedWords()
    {
        var found =
            from file in Tree.Files("src", ".cs", ".razor")
            from line in Tree.Lines(file)
            from ban in Banned
            where line.Contains(ban.Text, StringComparison.Ordinal) && !line.TrimStart().StartsWith("//", StringComparison.Ordinal)
            select $"{file}: {ban.Text} ({ban.Why})";
        Assert.Empty(found.Distinct());
    }

    [Fact]
    public void Tests_Text_HaveNoSleepSkipOrWallClock()
    {
        string[] banned = ["Thread.Sleep(", "Skip = \"", "DateTime.Now", "DateTime.UtcNow", "DateTimeOffset.UtcNow"];
        Assert.Empty(Found(Tree.Files("tests", ".cs"), banned));
    }

    // A real browser and a measured server live by the clock on the wall; everything else can say when it is ready. Seen to fail with a wait for
    // twenty milliseconds in a test of the Wall.
    [Fact]
    public void Tests_Text_WaitForSignalsAndForNoTime()
    {
        string[] byTheClock = ["tests/ShopFloor.Browser.Tests/", "tests/ShopFloor.Benchmarks/"];
        var files = Tree.Files("tests", ".cs").Where(f => !byTheClock.Any(c => f.StartsWith(c, StringComparison.Ordinal)));
        Assert.Empty(Found(files, ["Task.Delay("]));
    }

    private static IEnumerable<string> Found(IEnumerable<string> files, string[] banned) =>
        (
            from file in files
            where !file.EndsWith("Architecture/TextTests.cs", StringComparison.Ordinal)
            from line in Tree.Lines(file)
            from ban in banned
            where line.Contains(ban, StringComparison.Ordinal)
            select $"{file}: {ban}"
        ).Distinct();
}
