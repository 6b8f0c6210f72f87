using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Data;

namespace ShopFloor.Web.Security;

/// <summary>Identity's sign-in, for active workers only: a worker who was switched off is out with the next look at the stamp.</summary>
public sealed class WorkerSignIn(
    UserManager<Worker> users,
    IHttpContextAccessor context,
    IUserClaimsPrincipalFactory<Worker> claims,
    IOptions<IdentityOptions> options,
    ILogger<SignInManager<Worker>> logger,
    IAuthenticationSchemeProvider schemes,
    IUserConfirmation<Worker> confirmation
) : SignInManager<Worker>(users, context, claims, options, logger, schemes, confirmation)
{
    public override Task<bool> CanSignInAsync(Worker user) => Task.FromResult(user.IsActive);

    public override async Task<Worker?> ValidateSecurityStampAsync(ClaimsPrincipal? principal) =>
        await base.ValidateSecurityStampAsync(principal) is { IsActive: true } worker ? worker : null;
}
