using ShopFloor.Web.Security;

namespace ShopFloor.Web.Live;

public static class LiveSetUp
{
    /// <summary>The notifier and the clock that screens and commands use.</summary>
    public static IServiceCollection AddLive(this IServiceCollection services)
    {
        services.AddSingleton(TimeProvider.System);
        services.AddSingleton<Notifier>();
        return services;
    }

    /// <summary>Names who is signed in, to the page that asks for the time.</summary>
    public const string WhoHeader = "Shop-Worker";

    /// <summary>The server's clock for timers in the browser: milliseconds since 1970, UTC.</summary>
    public static void MapClock(this IEndpointRouteBuilder app) =>
        app.MapGet(
                "/clock",
                (TimeProvider time, HttpContext context) =>
                {
                    context.Response.Headers.CacheControl = "no-store";
                    // So that a page notices that another tab has signed somebody else in.
                    context.Response.Headers[WhoHeader] = WorkerClaim.IdOf(context.User)?.ToString();
                    return Results.Text(time.GetUtcNow().ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture));
                }
            )
            .RequireAuthorization();
}
