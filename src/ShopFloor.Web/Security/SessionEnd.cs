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
    private static readonly TimeSpan Day = TimeSpan.FromHours(12);

    /// <summary>Hooks into sign-in and into the look at each request, before the look at the security stamp.</summary>
    public static void Keep(CookieAuthenticationEvents events)
    {
        var checkStamp = events.OnValidatePrincipal;
        events.OnSigningIn = context =>
        {
            if (!context.Properties.IsPersistent && context.Properties.IssuedUtc is { } issued)
                context.Properties.Items[Key] = (issued + Day).ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
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
        var now = context.HttpContext.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();
        return context.Properties.Items.TryGetValue(Key, out var ends) && IsOver(ends, now);
    }
}
