using System.Text.RegularExpressions;
using System.Xml.Linq;
using ShopFloor.Web.Tests.Architecture;

namespace ShopFloor.Web.Tests.Look;

/// <summary>The pages that print speak German as the Bench does, whose pages they are. Seen to fail with a line taken out.</summary>
public sealed partial class PaperGermanTests
{
    private static readonly IReadOnlySet<string> German = XDocument
        .Parse(string.Join('\n', Tree.Lines("src/ShopFloor.Web/Shared/SharedTexts.de.resx")))
        .Root!.Elements("data")
        .Select(d => d.Attribute("name")!.Value)
        .ToHashSet(StringComparer.Ordinal);

    [Fact]
    public void Texts_OfThePagesThatPrint_AreAllThere()
    {
        var used =
            from folder in new[] { "src/ShopFloor.Web/Documents", "src/ShopFloor.Web/Shared/Uploads" }
            from file in Tree.Files(folder, ".razor")
            from Match match in Key().Matches(string.Join('\n', Tree.Lines(file)))
            select match.Groups["key"].Value;
        Assert.Equal([], used.Distinct(StringComparer.Ordinal).Where(k => !German.Contains(k)));
    }

    [GeneratedRegex("""\bT\["(?<key>(?:[^"\\]|\\.)+)"[],]""", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Key();
}
