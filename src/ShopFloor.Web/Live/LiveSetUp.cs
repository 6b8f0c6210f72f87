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

    /// <summary>The server's clock for timers in the browser: milliseconds since 1970, UTC.</summary>
    public static void MapClock(this IEndpointRouteBuilder app) =>
        app.MapGet(
                "/clock",
                (TimeProvider time, HttpContext context) =>
                {
                    context.Response.Headers.CacheControl = "no-store";
                    return Results.Text(time.GetUtcNow().ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture));
                }
            )
            .RequireAuthorization();
}
