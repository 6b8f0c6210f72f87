using System.Text.Json;
using System.Xml.Linq;

namespace ShopFloor.Web.Tests.Architecture;

/// <summary>
/// Whoever publishes the program passes on what others wrote: each package is named with its version. Seen to fail with a package taken out of the
/// notices, with one of another version, and with one that is not published.
/// </summary>
public sealed class NoticeTests
{
    private const string Notices = "docs/third-party-notices.md";

    [Fact]
    public void Notices_Packages_AreThoseThatArePublished()
    {
        var named = Tree.Lines(Notices)
            .Where(l => l.StartsWith("| ", StringComparison.Ordinal))
            .Skip(2)
            .Select(l => l.Split('|', StringSplitOptions.TrimEntries))
            .Select(c => $"{c[1]} {c[2]}");
        Assert.Equal(Published().Order(StringComparer.OrdinalIgnoreCase), named.Order(StringComparer.OrdinalIgnoreCase));
    }

    [Fact]
    public void Notices_LibraryThatReadsHeic_IsNamedWithItsLicence()
    {
        var text = string.Join(' ', Tree.Text(Notices).Split([' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
        Assert.Contains("libde265", text, StringComparison.Ordinal);
        Assert.Contains("GNU Lesser General Public License, version 3", text, StringComparison.Ordinal);
    }

    /// <summary>What the projects of the program ask for, and what that asks for, as the lock file of the program has it.</summary>
    private static IEnumerable<string> Published()
    {
        var locked = JsonDocument
            .Parse(Tree.Text("src/ShopFloor.Web/packages.lock.json"))
            .RootElement.GetProperty("dependencies")
            .EnumerateObject()
            .SelectMany(f => f.Value.EnumerateObject())
            .Where(p => p.Value.TryGetProperty("resolved", out _))
            .GroupBy(p => p.Name, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(g => g.Key, g => g.First().Value, StringComparer.OrdinalIgnoreCase);
        var reached = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        var open = new Queue<string>(Asked());
        while (open.TryDequeue(out var name))
            if (locked.TryGetValue(name, out var package) && reached.Add(name))
                foreach (var needed in Needed(package))
                    open.Enqueue(needed);
        return locked.Where(p => reached.Contains(p.Key)).Select(p => $"{p.Key} {p.Value.GetProperty("resolved").GetString()}");
    }

    private static IEnumerable<string> Asked() =>
        from project in Tree.Files("src", ".csproj")
        from reference in XDocument.Parse(Tree.Text(project)).Descendants("PackageReference")
        // For the build alone.
        where (string?)reference.Attribute("PrivateAssets") != "all"
        select (string)reference.Attribute("Include")!;

    private static IEnumerable<string> Needed(JsonElement package) =>
        package.TryGetProperty("dependencies", out var needed) ? needed.EnumerateObject().Select(n => n.Name) : [];
}
