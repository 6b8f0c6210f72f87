using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Offers;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Duties;

/// <summary>Whose data.</summary>
public sealed record EraseInput(CustomerId Customer);

/// <summary>
/// Erases a customer's personal data: contact, words, pictures, links, messages. Invoices stay as the law asks, and lose the name when their
/// time is over. Written into a list beside the database too, so that a restored backup forgets again.
/// </summary>
public sealed class EraseCustomer(
    CommandRunner runner,
    IDbContextFactory<ShopContext> contexts,
    JournalPhotos photos,
    PictureFolder pictures,
    ErasureList list
) : IUseCase
{
    /// <summary>Does it.</summary>
    public async Task<Result<Done>> RunAsync(Asked asked, EraseInput input, CancellationToken cancel = default)
    {
        List<PictureId> gone = [];
        // The first time after a start it goes through all journals: nobody at the Bench shall wait for it.
        await using (var context = await contexts.CreateDbContextAsync(cancel))
            await photos.LoadAsync(context, cancel);
        var done = await runner.RunAsync<EraseInput, Done>(
            nameof(EraseCustomer),
            Allowed.Owner,
            asked,
            input,
            async work =>
            {
                var decided = await DecideAsync(work, input.Customer, gone, mustBeOver: !asked.IsSystem, cancel);
                pictures.Begin(gone);
                return decided;
            },
            cancel
        );
        if (!done.IsOk)
            return done;
        // First of all what makes older backups forget: whatever happens to the files, this is known.
        list.Add(input.Customer);
        foreach (var picture in gone)
            pictures.Delete(picture);
        return done;
    }

    private async Task<Result<Done>> DecideAsync(
        CommandWork work,
        CustomerId id,
        List<PictureId> gone,
        bool mustBeOver,
        CancellationToken cancel
    )
    {
        if (await work.Context.Customers.FirstOrDefaultAsync(c => c.Id == id, cancel) is not { } customer)
            return new Refusal("customer-missing", "This customer is no longer there.");
        if (customer.ErasedAt is not null)
            return new Refusal("customer-erased", "This customer's data was erased already.");
        var orders = await work.Context.Orders.Where(o => o.Customer == id).ToListAsync(cancel);
        var ids = orders.ConvertAll(o => o.Id);
        var pieces = await work.Context.Pieces.Where(p => ids.Contains(p.Order)).ToListAsync(cancel);
        if (mustBeOver && await StillOpenAsync(work, orders, pieces, cancel) is { } open)
            return open;
        var drafts = await DraftsAsync(work, id, ids, cancel);
        work.Context.Drafts.RemoveRange(drafts);
        await ForgetOffersAsync(work, drafts, cancel);
        gone.AddRange(await PersonalPictures.TakeAsync(work.Context, photos, orders, cancel));
        gone.AddRange(await ForgetPicturesAsync(work, pieces, cancel));
        customer.Erase(work.Now);
        foreach (var order in orders)
            order.Erase();
        foreach (var complaint in await work.Context.Complaints.Where(c => ids.Contains(c.Order)).ToListAsync(cancel))
            complaint.Erase();
        work.Context.Outbox.RemoveRange(
            await work.Context.Outbox.Where(m => m.Order != null && ids.Contains(m.Order.Value)).ToListAsync(cancel)
        );
        await ForgetChangesAsync(work, orders, cancel);
        await ForgetPaymentsAsync(work, ids, cancel);
        work.Context.Erasures.Add(new Erasure(id, work.Now, work.By, await LastDayAsync(work, ids, cancel)));
        work.Audit("customer erased", id.Value.ToString(), "", "");
        work.NoteSafety("customer erased", id.Value.ToString());
        foreach (var order in ids)
            work.Touch(Topic.Order, order.Value);
        return default(Done);
    }

    /// <summary>The entries that became the orders, and those begun for this customer that became none yet.</summary>
    private static async Task<IReadOnlyList<Draft>> DraftsAsync(
        CommandWork work,
        CustomerId customer,
        List<OrderId> orders,
        CancellationToken cancel
    )
    {
        var named = customer.Value.ToString();
        return await work
            .Context.Drafts.Where(d => (d.BecameOrder != null && orders.Contains(d.BecameOrder.Value)) || d.Json.Contains(named))
            .ToListAsync(cancel);
    }

    /// <summary>Mails with offers that were made for these entries.</summary>
    private static async Task ForgetOffersAsync(CommandWork work, IReadOnlyList<Draft> drafts, CancellationToken cancel)
    {
        foreach (var key in drafts.Select(d => MailOffer.KeyOf(d.Id)))
            work.Context.Outbox.RemoveRange(await work.Context.Outbox.Where(m => m.Key.StartsWith(key)).ToListAsync(cancel));
    }

    private static async Task<Refusal?> StillOpenAsync(CommandWork work, List<Order> orders, List<Piece> pieces, CancellationToken cancel)
    {
        if (pieces.Exists(p => !p.IsOver || p.State == PieceState.GoingBack))
            return new Refusal(
                "orders-open",
                "There are pieces that are not handed over or given back yet. Finish or call off those orders first."
            );
        foreach (var order in orders)
        {
            var open = (await InvoiceBalances.LoadAsync(work.Context, new() { Order = order.Number }, cancel))
                .Select(r => r.Outstanding)
                .ToList();
            if (open.Exists(o => o > 0m))
                return new Refusal("invoices-open", $"An invoice for order {order.Number} is not paid yet: what is owed must stay known.");
            var account = await OrderAccount.LoadAsync(work.Context, order.Id, work.Now, cancel);
            if (open.Exists(o => o < 0m) || account!.ToGoBack > 0m)
                return new Refusal(
                    "money-owed",
                    $"Money of order {order.Number} belongs to the customer: pay it back and enter that first, or it could no longer be sent."
                );
        }
        return null;
    }

    /// <summary>What the journal knows of a print, and the photos of what the customer brought, are taken out; that and when something happened
    /// stays, and so do the workshop's own photos of faults and tests.</summary>
    private static async Task<IReadOnlyList<PictureId>> ForgetPicturesAsync(CommandWork work, List<Piece> pieces, CancellationToken cancel)
    {
        var ids = pieces.ConvertAll(p => p.Id);
        var journal = await work.Context.Journal.Where(j => ids.Contains(j.Piece)).OrderBy(j => j.Sequence).ToListAsync(cancel);
        var brought = new List<PictureId>();
        foreach (var entry in journal)
            if (entry.Read() is PictureBound bound)
                entry.Erase(bound with { Picture = null, Text = null });
            else if (entry.Read() is PieceBooked { Photos: { } photos } booked)
            {
                brought.AddRange(photos);
                entry.Erase(booked with { Photos = null });
            }
        foreach (var piece in pieces.Where(p => p.IsBound))
            piece.Replay([.. journal.Where(j => j.Piece == piece.Id).Select(j => (j.Id, j.Read()))]);
        work.Context.Pictures.RemoveRange(await work.Context.Pictures.Where(p => brought.Contains(p.Id)).ToListAsync(cancel));
        return brought;
    }

    /// <summary>That a contact or a text was put right stays in the audit list, what it was and became does not.</summary>
    private static async Task ForgetChangesAsync(CommandWork work, List<Order> orders, CancellationToken cancel)
    {
        var subjects = orders.ConvertAll(SeenOrder.Subject);
        foreach (
            var entry in await work
                .Context.Audit.Where(a => SeenOrder.Personal.Contains(a.What) && subjects.Contains(a.Subject))
                .ToListAsync(cancel)
        )
            entry.Erase();
    }

    /// <summary>Payments of orders with papers keep their words as long as these their name; others have nothing to keep them for.</summary>
    private static async Task ForgetPaymentsAsync(CommandWork work, List<OrderId> orders, CancellationToken cancel)
    {
        var withPapers = await work
            .Context.Documents.Where(d => orders.Contains(d.Order))
            .Select(d => d.Order)
            .Distinct()
            .ToListAsync(cancel);
        await ErasedDocuments.ForgetPaymentsAsync(work.Context, [.. orders.Except(withPapers)], cancel);
    }

    private static async Task<DateOnly?> LastDayAsync(CommandWork work, List<OrderId> orders, CancellationToken cancel)
    {
        var days = await work.Context.Documents.Where(d => orders.Contains(d.Order)).Select(d => d.Day).ToListAsync(cancel);
        if (days.Count == 0)
            return null;
        return (await CurrentSettings.LoadAsync(work.Context, work.Now, cancel)).Keeping.LastDayOf(days.Max());
    }
}
