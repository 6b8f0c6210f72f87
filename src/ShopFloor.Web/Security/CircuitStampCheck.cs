using System.Security.Claims;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;

namespace ShopFloor.Web.Security;

/// <summary>
/// Ends the session of an open page half a minute at the latest after its worker was switched off or got a new password, or after its
/// working day is over.
/// </summary>
public sealed class CircuitStampCheck(ILoggerFactory loggers, IServiceScopeFactory scopes, TimeProvider time)
    : RevalidatingServerAuthenticationStateProvider(loggers)
{
    protected override TimeSpan RevalidationInterval => TimeSpan.FromSeconds(30);

    /// <summary>Whether a page of this session may go on.</summary>
    public async Task<bool> HoldsAsync(ClaimsPrincipal user)
    {
        if (SessionEnd.IsOver(user, time.GetUtcNow()))
            return false;
        // A scope of its own, so that it reads afresh.
        await using var scope = scopes.CreateAsyncScope();
        return await scope.ServiceProvider.GetRequiredService<WorkerSignIn>().ValidateSecurityStampAsync(user) is not null;
    }

    protected override Task<bool> ValidateAuthenticationStateAsync(AuthenticationState state, CancellationToken cancellationToken) =>
        HoldsAsync(state.User);
}
