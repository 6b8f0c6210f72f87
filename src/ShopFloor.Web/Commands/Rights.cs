using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;

namespace ShopFloor.Web.Commands;

/// <summary>Judges whether a worker may run a command, from the database each time: a right taken away works at once.</summary>
internal static class Rights
{
    internal static async Task<Refusal?> RefuseAsync(ShopContext context, Allowed allowed, Asked asked, CancellationToken cancel)
    {
        if (asked.IsSystem || (asked.IsLink && allowed.Anyone))
            return null;
        if (asked.Key is { } key)
            return
                allowed.Roles.Contains(WorkerRole.Counter, StringComparer.Ordinal)
                && await context.AccessKeys.AnyAsync(k => k.Id == key && k.RevokedAt == null, cancel)
                ? null
                : new Refusal("no-right", "This key may not do that.");
        if (asked.Worker is not { } worker)
            return new Refusal("no-right", "Please sign in first.");
        var roles = await (
            from w in context.Users
            where w.Id == worker && w.IsActive
            join ur in context.UserRoles on w.Id equals ur.UserId
            join r in context.Roles on ur.RoleId equals r.Id
            select r.Name
        ).ToListAsync(cancel);
        return roles.Any(r => allowed.Roles.Contains(r, StringComparer.Ordinal))
            ? null
            : new Refusal("no-right", "You are not signed in for this. Sign in as somebody who may do it.");
    }
}
