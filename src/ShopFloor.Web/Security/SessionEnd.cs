using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Identity;

namespace ShopFloor.Web.Security;

/// <summary>
/// A session ends after a working day, however often its cookie was renewed; a screen of the shop's own that asked to stay signed in
/// is renewed while it is in use.
/// </summary>
public static class SessionEnd
{
    private const string Key = "shopfloor:ends";
    private const string Began = "shopfloor:began";

    /// <summary>For so long after a sign-in nobody is asked again who they are (common practice, no source).</summary>
    public static readonly TimeSpan Lately = TimeSpan.FromMinutes(10);

    private static readonly TimeSpan Day = TimeSpan.FromHours(12);

    /// <summary>Hooks into sign-in and into the look at each request, before the look at the security stamp.</summary>
    public static void Keep(CookieAuthenticationEvents events)
    {
        var checkStamp = events.OnValidatePrincipal;
        events.OnSigningIn = context =>
        {
            // A session that is only written anew keeps its beginning and its end.
            context.Properties.Items.TryAdd(Began, Text(Now(context.HttpContext)));
            if (!context.Properties.IsPersistent && context.Properties.IssuedUtc is { } issued)
                context.Properties.Items.TryAdd(Key, Text(issued + Day));
            return Task.CompletedTask;
        };
        events.OnValidatePrincipal = async context =>
        {
            if (!IsOver(context))
            {
                await checkStamp(context);
                Tell(context);
                return;
            }
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
        };
    }

    /// <summary>Whether the session of an open page is over; one that stays signed in never is.</summary>
    public static bool IsOver(ClaimsPrincipal user, DateTimeOffset now) => user.FindFirst(Key) is { } end && IsOver(end.Value, now);

    /// <summary>How the session of a request stands: whether it began lately, and whether it is one that stays signed in.</summary>
    public static async Task<(bool IsNew, bool Stays)> LookAsync(HttpContext http)
    {
        var found = await http.AuthenticateAsync(IdentityConstants.ApplicationScheme);
        var began = found.Properties?.Items.TryGetValue(Began, out var text) == true ? text : null;
        var isNew =
            long.TryParse(began, CultureInfo.InvariantCulture, out var at) && Now(http) - DateTimeOffset.FromUnixTimeSeconds(at) <= Lately;
        return (isNew, found.Properties?.IsPersistent == true);
    }

    private static DateTimeOffset Now(HttpContext http) => http.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();

    private static string Text(DateTimeOffset at) => at.ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);

    // An open page asks no more after its cookie: it takes along when it ends.
    private static void Tell(CookieValidatePrincipalContext context)
    {
        if (context.Principal is { Identity: ClaimsIdentity identity } && !identity.HasClaim(c => c.Type == Key))
            if (context.Properties.Items.TryGetValue(Key, out var ends) && ends is not null)
                identity.AddClaim(new Claim(Key, ends));
    }

    private static bool IsOver(string? ends, DateTimeOffset now) =>
        !long.TryParse(ends, CultureInfo.InvariantCulture, out var at) || now.ToUnixTimeSeconds() >= at;

    private static bool IsOver(CookieValidatePrincipalContext context)
    {
        return context.Properties.Items.TryGetValue(Key, out var ends) && IsOver(ends, Now(context.HttpContext));
    }
}
