using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using ShopFloor.Data;

namespace ShopFloor.Web.Security.SecondSteps;

/// <summary>Remembers in a sealed cookie of five minutes who has given the right password and still owes the second step.</summary>
public sealed class HalfSignIn(IHttpContextAccessor accessor)
{
    private const string Who = "shopfloor:half";
    private const string Stamp = "shopfloor:stamp";
    private const string Stays = "shopfloor:stays";

    private HttpContext Http => accessor.HttpContext ?? throw new InvalidOperationException("There is no request to sign in.");

    /// <summary>The password was right.</summary>
    public Task BeginAsync(Worker worker, bool stay)
    {
        var identity = new ClaimsIdentity(IdentityConstants.TwoFactorUserIdScheme);
        identity.AddClaim(new Claim(Who, worker.Id.ToString()));
        identity.AddClaim(new Claim(Stamp, worker.SecurityStamp ?? ""));
        identity.AddClaim(new Claim(Stays, stay ? "yes" : "no"));
        return Http.SignInAsync(IdentityConstants.TwoFactorUserIdScheme, new ClaimsPrincipal(identity));
    }

    /// <summary>Who that was; null when it is too long ago or never was.</summary>
    public async Task<(Guid Worker, string Stamp, bool Stay)?> ReadAsync()
    {
        var found = await Http.AuthenticateAsync(IdentityConstants.TwoFactorUserIdScheme);
        return Guid.TryParse(found.Principal?.FindFirstValue(Who), out var worker)
            ? (worker, found.Principal!.FindFirstValue(Stamp) ?? "", found.Principal!.FindFirstValue(Stays) == "yes")
            : null;
    }

    /// <summary>It is done.</summary>
    public Task EndAsync() => Http.SignOutAsync(IdentityConstants.TwoFactorUserIdScheme);
}
