using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;

namespace ShopFloor.Web.Security;

/// <summary>Ends the session of an open page half a minute at the latest after its worker was switched off or got a new password.</summary>
public sealed class CircuitStampCheck(ILoggerFactory loggers, IServiceScopeFactory scopes)
    : RevalidatingServerAuthenticationStateProvider(loggers)
{
    protected override TimeSpan RevalidationInterval => TimeSpan.FromSeconds(30);

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState state, CancellationToken cancellationToken)
    {
        // A scope of its own, so that it reads afresh.
        await using var scope = scopes.CreateAsyncScope();
        return await scope.ServiceProvider.GetRequiredService<WorkerSignIn>().ValidateSecurityStampAsync(state.User) is not null;
    }
}
