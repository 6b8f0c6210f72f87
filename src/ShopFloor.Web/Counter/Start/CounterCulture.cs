using Microsoft.AspNetCore.Localization;
using ShopFloor.Web.Hosting;

namespace ShopFloor.Web.Counter.Start;

/// <summary>
/// The customers' pages speak more languages than the Office. A device speaks what was chosen on it; a customer's own phone also what it
/// asks for; every other page speaks as the workshop does.
/// </summary>
public static class CounterCulture
{
    public static IServiceCollection AddCounterLanguages(this IServiceCollection services)
    {
        services
            .AddOptions<RequestLocalizationOptions>()
            .PostConfigure<ShopCultures>(
                (o, cultures) =>
                {
                    o.DefaultRequestCulture = new RequestCulture(cultures.Own);
                    o.SupportedCultures = o.SupportedUICultures = [.. cultures.All];
                    o.RequestCultureProviders =
                    [
                        new CookieRequestCultureProvider { Options = o },
                        new CustomRequestCultureProvider(context => Task.FromResult(Asked(context.Request, cultures))),
                    ];
                }
            );
        return services;
    }

    /// <summary>On a customer's phone the first language that it asks for and that the page speaks.</summary>
    private static ProviderCultureResult? Asked(HttpRequest request, ShopCultures cultures)
    {
        var isCustomers =
            request.Path.StartsWithSegments("/status", StringComparison.Ordinal)
            || request.Path.StartsWithSegments("/p", StringComparison.Ordinal);
        if (!isCustomers)
            return null;
        var wanted = request.GetTypedHeaders().AcceptLanguage.OrderByDescending(l => l.Quality ?? 1).Select(l => l.Value.ToString());
        return wanted.Select(cultures.For).FirstOrDefault(c => c is not null) is { } found ? new ProviderCultureResult(found.Name) : null;
    }
}
