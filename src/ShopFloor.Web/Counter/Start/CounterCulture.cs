using Microsoft.AspNetCore.Localization;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Counter.Start;

/// <summary>
/// The customers' pages speak more languages than the Office. A device speaks what was chosen on it; a customer's own phone also what it
/// asks for; every other page keeps to the languages of the whole program.
/// </summary>
public static class CounterCulture
{
    /// <summary>The languages in which the customers' pages are complete.</summary>
    public static IReadOnlyList<string> All { get; } = [.. Languages.All.Append("de-DE").Distinct(StringComparer.Ordinal)];

    public static IServiceCollection AddCounterLanguages(this IServiceCollection services) =>
        services.PostConfigure<RequestLocalizationOptions>(o =>
        {
            o.AddSupportedCultures([.. All]).AddSupportedUICultures([.. All]);
            o.RequestCultureProviders =
            [
                new CookieRequestCultureProvider { Options = o },
                new CustomRequestCultureProvider(context => Task.FromResult(Asked(context.Request))),
            ];
        });

    /// <summary>The first language that the browser asks for and that the page speaks.</summary>
    private static ProviderCultureResult? Asked(HttpRequest request)
    {
        var spoken =
            request.Path.StartsWithSegments("/status", StringComparison.Ordinal)
            || request.Path.StartsWithSegments("/p", StringComparison.Ordinal)
                ? All
                : Languages.All;
        var wanted = request.GetTypedHeaders().AcceptLanguage.OrderByDescending(l => l.Quality ?? 1).Select(l => l.Value.ToString());
        var found = wanted.Select(w => spoken.FirstOrDefault(s => Fits(s, w))).FirstOrDefault(s => s is not null);
        return found is null ? null : new ProviderCultureResult(found);
    }

    private static bool Fits(string spoken, string wanted) =>
        string.Equals(spoken, wanted, StringComparison.OrdinalIgnoreCase)
        || (wanted.Length == 2 && spoken.StartsWith(wanted + "-", StringComparison.OrdinalIgnoreCase))
        || (wanted.StartsWith("de", StringComparison.OrdinalIgnoreCase) && spoken == "de-DE");
}
