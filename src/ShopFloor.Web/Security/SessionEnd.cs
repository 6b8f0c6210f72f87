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
                return;
            }
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(IdentityConstants.ApplicationScheme);
        };
    }

    private static bool IsOver(CookieValidatePrincipalContext context)
    {
        var now = context.HttpContext.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow();
        return context.Properties.Items.TryGetValue(Key, out var text)
            && (!long.TryParse(text, CultureInfo.InvariantCulture, out var ends) || now.ToUnixTimeSeconds() >= ends);
    }
}
