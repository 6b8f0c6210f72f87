using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Clerk;

/// <summary>
/// Begins a new entry with what an earlier order had: customer, pieces, pictures as they were laid, finishes. Nothing that was agreed to is
/// taken over, for a new order is agreed to anew.
/// </summary>
public sealed class RepeatOrder(IDbContextFactory<ShopContext> contexts, BeginDraft begin, TimeProvider time) : IErrand
{
    /// <summary>Makes the draft and answers its id.</summary>
    public async Task<Result<Guid>> RunAsync(Guid worker, OrderId id, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (!await DraftAccess.IsClerkAsync(context, worker.ToString(), cancel))
            return new Refusal("no-right", "You are not signed in for this. Sign in as somebody who may do it.");
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Id == id, cancel);
        if (order is null)
            return new Refusal("order-missing", "There is no such order.");
        var bleed = (await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel)).Profile.BleedMillimetres;
        var ids = order.Lines.Select(l => l.Picture).OfType<PictureId>().ToList();
        var pictures = await context.Pictures.AsNoTracking().Where(p => ids.Contains(p.Id)).ToListAsync(cancel);
        // Of somebody whose data was erased nothing is left to take over: who it is for is asked.
        var isKept = await context.Customers.AnyAsync(c => c.Id == order.Customer && c.ErasedAt == null, cancel);
        var contact = isKept ? order.Contact : new Contact("", "", "");
        var entry = new OrderEntry
        {
            Customer = isKept ? order.Customer : null,
            Name = contact.Name,
            Email = contact.Email,
            Phone = contact.Phone,
            IsGift = order.IsGift,
            Lines = [.. order.Lines.OrderBy(l => l.Number).Select(l => LineAgain.Of(l, pictures.Find(p => p.Id == l.Picture), bleed))],
        };
        return await begin.RunAsync(Asked.By(worker), entry, CounterStep.Check, cancel);
    }
}
