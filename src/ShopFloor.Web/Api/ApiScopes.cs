using System.Security.Claims;
using Microsoft.AspNetCore.Authorization;

namespace ShopFloor.Web.Api;

/// <summary>What a key may do.</summary>
public static class ApiScopes
{
    /// <summary>Ask for a price, book orders.</summary>
    public const string OrdersIn = "orders:in";

    /// <summary>Read orders and where their pieces are.</summary>
    public const string StatusOut = "status:out";

    /// <summary>Read the published plan.</summary>
    public const string PlanOut = "plan:out";

    /// <summary>Read the calendar of promises. Given to a calendar's link only.</summary>
    public const string Calendar = "calendar";

    /// <summary>The claim that carries a scope.</summary>
    public const string Claim = "scope";

    /// <summary>Scopes of keys for programs.</summary>
    public static IReadOnlyList<string> OfPrograms { get; } = [OrdersIn, StatusOut, PlanOut];

    /// <summary>The key of a call.</summary>
    public static Guid KeyOf(ClaimsPrincipal caller) => Guid.Parse(caller.FindFirstValue(ClaimTypes.NameIdentifier)!);

    /// <summary>Who calls by a key with that scope; a browser's cookie does not count.</summary>
    public static AuthorizationPolicy Policy(string scope) =>
        new AuthorizationPolicyBuilder(KeySignIn.SchemeName).RequireAuthenticatedUser().RequireClaim(Claim, scope).Build();
}
