using System.Security.Cryptography;
using System.Text;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Security;

namespace ShopFloor.Web.Api;

/// <summary>The calendar's address: a secret in itself, so it has the headers of one and counts wrong guesses.</summary>
public static class CalendarEndpoint
{
    public static void MapCalendar(this IEndpointRouteBuilder app) =>
        app.MapGet("/calendar/{secret}.ics", SendAsync).AllowAnonymous().RequireRateLimiting(RequestLimits.Links).ExcludeFromDescription();

    private static async Task<IResult> SendAsync(string secret, HttpContext http, CalendarFeed feed, Misses misses)
    {
        SecretHeaders.On(http.Response);
        if (misses.TooMany(http))
            return Results.StatusCode(StatusCodes.Status429TooManyRequests);
        if (await feed.RunAsync(secret, http.RequestAborted) is not { } text)
        {
            misses.Note(http);
            return Results.NotFound();
        }
        var bytes = Encoding.UTF8.GetBytes(text);
        var tag = $"\"{Convert.ToHexStringLower(SHA256.HashData(bytes))[..32]}\"";
        http.Response.Headers.ETag = tag;
        return http.Request.Headers.IfNoneMatch.ToString() == tag
            ? Results.StatusCode(StatusCodes.Status304NotModified)
            : Results.Bytes(bytes, "text/calendar; charset=utf-8");
    }
}
