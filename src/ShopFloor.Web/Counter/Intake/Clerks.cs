using System.Security.Claims;
using ShopFloor.Data;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>Who works here. A counter session is a device that customers use: it sees no other order and no other name.</summary>
public static class Clerks
{
    public static bool Is(ClaimsPrincipal user) => user.IsInRole(WorkerRole.Owner) || user.IsInRole(WorkerRole.Bench);
}
