using System.Text.RegularExpressions;
using System.Xml.Linq;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Security;

/// <summary>Everybody signs in and looks after their own sign-in: what these pages say, they say in German too. Seen to fail with a line taken out.</summary>
public sealed partial class SignInWordsTests
{
    private const string Folder = "src/ShopFloor.Web/Security";

    /// <summary>Said of a sign-in that is gone while its own page is open, which cannot be.</summary>
    private const string Never = "This sign-in is no longer there.";

    [Fact]
    public void Texts_OfTheOwnSignIn_HaveTheirGerman()
    {
        var german = XDocument
            .Parse(Tree.Text("src/ShopFloor.Web/Shared/SharedTexts.de.resx"))
            .Root!.Elements("data")
            .Select(d => d.Attribute("name")!.Value)
            .ToHashSet(StringComparer.Ordinal);
        var shown =
            from file in Tree.Files(Folder, ".razor")
            where !file.EndsWith("/SetupPage.razor", StringComparison.Ordinal)
            from Match match in Key().Matches(Tree.Text(file))
            select match.Groups["key"].Value;
        var refused =
            from file in Tree.Files(Folder, ".cs")
            where Path.GetDirectoryName(file) != Path.GetDirectoryName($"{Folder}/x")
            let source = Tree.Text(file).Replace("=>\n        new(", "=> new(", StringComparison.Ordinal)
            from text in SourceText.SecondArguments(source, "new Refusal(").Concat(SourceText.SecondArguments(source, "=> new("))
            where text.Contains(' ', StringComparison.Ordinal)
            select text;
        var all = shown.Concat(refused).Distinct(StringComparer.Ordinal).ToList();
        Assert.True(all.Count > 30, $"Only {all.Count} texts were found.");
        Assert.Equal([], all.Where(t => !german.Contains(t) && t != Never));
    }

    [GeneratedRegex("T\\[\"(?<key>[^\"]+)\"", RegexOptions.None, 1000)]
    private static partial Regex Key();
}
