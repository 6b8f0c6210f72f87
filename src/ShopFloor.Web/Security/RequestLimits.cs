using System.Threading.RateLimiting;
using Microsoft.AspNetCore.RateLimiting;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Shared;

namespace ShopFloor.Web.Security;

/// <summary>How often an address may try sign-ins, send files and look at the pages that need no sign-in; the API has limits of its own.</summary>
public static class RequestLimits
{
    /// <summary>Name of the limit for whatever takes a file in.</summary>
    public const string Uploads = "uploads";

    /// <summary>Name of the limit for pages and pictures that anybody with a link can ask for.</summary>
    public const string Links = "links";

    /// <summary>What is said to whoever is refused.</summary>
    public const string Words = "Too many requests from here. Wait a minute, then try again.";

    private const string Seconds = "60";
    private static readonly TimeSpan Window = TimeSpan.FromMinutes(1);

    /// <summary>Sets them up.</summary>
    public static void Set(RateLimiterOptions o, HostSettings settings)
    {
        o.RejectionStatusCode = StatusCodes.Status429TooManyRequests;
        o.OnRejected = async (rejected, _) => await SayAsync(rejected.HttpContext);
        o.GlobalLimiter = PartitionedRateLimiter.Create<HttpContext, string>(http =>
            Of(http, IsGuess(http.Request), settings.SignInsPerMinute)
        );
        o.AddPolicy(Uploads, http => Of(http, HttpMethods.IsPost(http.Request.Method), settings.UploadsPerMinute));
        o.AddPolicy(Links, http => Of(http, isCounted: true, settings.LinkCallsPerMinute));
    }

    /// <summary>The plain answer to who asks too often: words for a page, the same for a script that sends a file.</summary>
    internal static Task SayAsync(HttpContext http)
    {
        var words = http.RequestServices.GetRequiredService<Spoken>()[Words];
        http.Response.StatusCode = StatusCodes.Status429TooManyRequests;
        http.Response.Headers.RetryAfter = Seconds;
        http.Response.Headers.CacheControl = "no-store";
        return http.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase)
            ? http.Response.WriteAsync(words, http.RequestAborted)
            : http.Response.WriteAsJsonAsync(new { text = words }, http.RequestAborted);
    }

    private static RateLimitPartition<string> Of(HttpContext http, bool isCounted, int most) =>
        isCounted
            ? RateLimitPartition.GetFixedWindowLimiter(
                "from " + http.Connection.RemoteIpAddress,
                _ => new FixedWindowRateLimiterOptions { PermitLimit = most, Window = Window }
            )
            : RateLimitPartition.GetNoLimiter("");

    private static bool IsGuess(HttpRequest request) =>
        HttpMethods.IsPost(request.Method)
        && (
            request.Path.StartsWithSegments(SecuritySetUp.SignInPath, StringComparison.OrdinalIgnoreCase)
            || request.Path.StartsWithSegments(SecuritySetUp.OwnPath, StringComparison.OrdinalIgnoreCase)
            || request.Path.StartsWithSegments("/setup", StringComparison.OrdinalIgnoreCase)
        );
}
