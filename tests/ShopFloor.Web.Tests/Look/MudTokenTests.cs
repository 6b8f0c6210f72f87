using System.Text.RegularExpressions;
using ShopFloor.Web.Tests.Architecture;
using ShopFloor.Web.Tests.Security;

namespace ShopFloor.Web.Tests.Look;

/// <summary>The component library gets every colour and size it asks for from our file. Seen to fail with one line taken out of mud.css.</summary>
public sealed partial class MudTokenTests
{
    // Set by the library's own style attributes on the element, or defined in its own sheet.
    private static readonly string[] ItsOwn =
    [
        "--mud-drawer-height",
        "--mud-drawer-height-top",
        "--mud-drawer-height-bottom",
        "--mud-internal-toolbar-height",
        "--mud-zindex-select",
    ];

    [Fact]
    public async Task Library_AskedNames_AreAllDefined()
    {
        await using var host = await ShopHost.StartAsync();
        using var client = host.Client();
        var sheet = await client.GetStringAsync("/_content/MudBlazor/MudBlazor.min.css");
        var asked = Asked().Matches(sheet).Select(m => m.Groups["name"].Value).Distinct(StringComparer.Ordinal).ToList();
        Assert.True(asked.Count > 100);
        var defined = Defined()
            .Matches(Tree.Text("src/ShopFloor.Web/wwwroot/look/mud.css"))
            .Select(m => m.Groups["name"].Value)
            .ToHashSet(StringComparer.Ordinal);
        Assert.DoesNotContain(asked, name => !defined.Contains(name) && !ItsOwn.Contains(name, StringComparer.Ordinal));
    }

    [GeneratedRegex(@"var\((?<name>--mud-[a-z0-9-]+)", RegexOptions.None, 5000)]
    private static partial Regex Asked();

    [GeneratedRegex(@"^\s+(?<name>--mud-[a-z0-9-]+):", RegexOptions.Multiline, 5000)]
    private static partial Regex Defined();
}
