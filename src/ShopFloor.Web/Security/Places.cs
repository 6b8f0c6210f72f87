using System.Security.Claims;
using ShopFloor.Data;

namespace ShopFloor.Web.Security;

/// <summary>Where a worker's work begins.</summary>
public static class Places
{
    /// <summary>The first page for the roles of a session, as a path below the base.</summary>
    public static string HomeOf(ClaimsPrincipal user) =>
        user.IsInRole(WorkerRole.Owner) ? "office"
        : user.IsInRole(WorkerRole.Bench) ? "bench"
        : "counter";
}
