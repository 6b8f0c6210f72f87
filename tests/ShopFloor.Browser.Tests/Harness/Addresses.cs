using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace ShopFloor.Browser.Tests.Harness;

/// <summary>
/// Waiting for an address. It is asked for again and again: whoever looks once and then listens for the next navigation misses one that
/// happens in between.
/// </summary>
internal static class Addresses
{
    /// <summary>Waits until the path ends so; what follows a question mark does not count.</summary>
    internal static Task EndsAsync(this IPage page, string path) => Assertions.Expect(page).ToHaveURLAsync(Of($@"^[^?]*{path}(\?.*)?$"));

    /// <summary>Waits until the address contains a part.</summary>
    internal static Task ContainsAsync(this IPage page, string part) => Assertions.Expect(page).ToHaveURLAsync(Of(part));

    /// <summary>Waits until the address does not contain a part any more.</summary>
    internal static Task LeavesAsync(this IPage page, string part) => Assertions.Expect(page).Not.ToHaveURLAsync(Of(part));

    private static Regex Of(string pattern) => new(pattern, RegexOptions.None, Chromium.Patience);
}
