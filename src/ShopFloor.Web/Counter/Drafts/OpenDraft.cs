using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>A draft as a screen opens it.</summary>
/// <param name="Kept">What was typed and what came in.</param>
/// <param name="Step">Where the person was.</param>
/// <param name="BecameOrder">The order it became already.</param>
public sealed record OpenedDraft(KeptOrder Kept, CounterStep Step, OrderId? BecameOrder);

/// <summary>Opens a draft to go on with it.</summary>
public sealed class OpenDraft(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>The draft, when this worker may see it.</summary>
    public async Task<Result<OpenedDraft>> RunAsync(Guid worker, Guid draft, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = await DraftAccess.FindAsync(context, draft, worker.ToString(), cancel);
        return found.Then<OpenedDraft>(d => new OpenedDraft(KeptOrder.Of(d), CounterSteps.Of(d.Step), d.BecameOrder));
    }
}
