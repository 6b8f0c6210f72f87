using System.Security.Claims;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Security;

/// <summary>What a signed-in session knows about its worker.</summary>
public static class WorkerClaim
{
    private const string DisplayName = "shopfloor:name";
    private const string Person = "shopfloor:person";

    /// <summary>Name for screens.</summary>
    public static string NameOf(ClaimsPrincipal user) => user.FindFirstValue(DisplayName) ?? "";

    /// <summary>Id of the sign-in, or null when nobody is signed in.</summary>
    public static Guid? IdOf(ClaimsPrincipal user) => Guid.TryParse(user.FindFirstValue(ClaimTypes.NameIdentifier), out var id) ? id : null;

    /// <summary>The person in the plan, or null for a device.</summary>
    public static PersonId? PersonOf(ClaimsPrincipal user) =>
        Guid.TryParse(user.FindFirstValue(Person), out var id) ? new PersonId(id) : null;

    internal static void AddTo(ClaimsIdentity identity, Worker worker)
    {
        identity.AddClaim(new Claim(DisplayName, worker.DisplayName));
        if (worker.Person is { } person)
            identity.AddClaim(new Claim(Person, person.Value.ToString("D")));
    }
}

/// <summary>Builds the session's claims: id, roles, stamp, name for screens, person.</summary>
public sealed class WorkerClaims(UserManager<Worker> users, RoleManager<WorkerRole> roles, IOptions<IdentityOptions> options)
    : UserClaimsPrincipalFactory<Worker, WorkerRole>(users, roles, options)
{
    protected override async Task<ClaimsIdentity> GenerateClaimsAsync(Worker user)
    {
        var identity = await base.GenerateClaimsAsync(user);
        WorkerClaim.AddTo(identity, user);
        return identity;
    }
}
