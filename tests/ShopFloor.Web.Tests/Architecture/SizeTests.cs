using System.Text.RegularExpressions;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>
/// Files stay small enough to be read in one go; there are no exceptions. Seen to fail with a class of 301 lines, a page of 121 lines and a
/// @code of 41 lines. How long a method may be, the build says (MA0051 in .editorconfig).
/// </summary>
public sealed partial class SizeTests
{
    private const int MostOfClass = 300;
    private const int MostOfPage = 120;
    private const int MostOfCode = 40;
    private const int MostOfTest = 400;

    [Fact]
    public void Sources_Lines_AreWithinTheLimits() => Assert.Empty(TooLong());

    [Fact]
    public void Pages_CodeBlocks_AreWithinTheLimit() =>
        Assert.DoesNotContain(
            Tree.Files("src", ".razor"),
            page => CodeBlock().Match(Tree.Text(page)) is { Success: true } code && LinesOf(code.Groups["code"].Value) > MostOfCode
        );

    private static int LinesOf(string code) => code.Split('\n').Count(line => line.Trim().Length > 0);

    private static IEnumerable<string> TooLong() =>
        Tree.Files("src", ".cs", ".razor")
            .Where(f => Tree.Lines(f).Length > (f.EndsWith(".razor", StringComparison.Ordinal) ? MostOfPage : MostOfClass))
            .Concat(Tree.Files("tests", ".cs").Where(f => Tree.Lines(f).Length > MostOfTest));

    [GeneratedRegex(@"@code\s*\{(?<code>.*)\}", RegexOptions.Singleline, 1000)]
    private static partial Regex CodeBlock();
}
