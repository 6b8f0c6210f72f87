using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>Whose drafts somebody may open: a device its own, the owner and the Bench every one.</summary>
public static class DraftAccess
{
    private static readonly Refusal Gone = new("draft-gone", "This entry was closed. Please start a new one.");

    /// <summary>The draft for a change, or a refusal that does not tell whether there is one.</summary>
    public static async Task<Result<Draft>> FindAsync(CommandWork work, Guid id, CancellationToken cancel) =>
        await FindAsync(work.Context, id, work.By, cancel);

    /// <summary>The draft for reading.</summary>
    /// <param name="context">Reads it.</param>
    /// <param name="id">Which one.</param>
    /// <param name="by">Worker id as journals write it.</param>
    /// <param name="cancel">Ends the wait.</param>
    public static async Task<Result<Draft>> FindAsync(ShopContext context, Guid id, string by, CancellationToken cancel)
    {
        var draft = await context.Drafts.SingleOrDefaultAsync(d => d.Id == id && d.Kind == KeptOrder.Kind, cancel);
        if (draft is null || draft.WipedAt is not null)
            return Gone;
        return draft.Owner == by || await IsClerkAsync(context, by, cancel) ? draft : Gone;
    }

    /// <summary>True for the owner and the Bench, by the rights they have now.</summary>
    public static async Task<bool> IsClerkAsync(ShopContext context, string by, CancellationToken cancel) =>
        Guid.TryParse(by, out var worker)
        && await context
            .UserRoles.Where(u => u.UserId == worker)
            .Join(context.Roles, u => u.RoleId, r => r.Id, (_, r) => r.Name)
            .AnyAsync(name => name == WorkerRole.Owner || name == WorkerRole.Bench, cancel);
}
