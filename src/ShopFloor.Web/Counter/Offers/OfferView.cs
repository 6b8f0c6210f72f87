using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>An entry with its offer, as the page shows it.</summary>
/// <param name="Name">For whom it was entered; may be empty.</param>
/// <param name="Offer">The offer; null: none was made yet.</param>
/// <param name="Standing">Whether it counts for the entry as it is now; null without an offer, and while the entry has no price.</param>
/// <param name="Address">Where it would be mailed to; empty: nowhere.</param>
/// <param name="HasMail">A mail server is set.</param>
public sealed record OfferSheet(string Name, KeptOffer? Offer, OfferStanding? Standing, string Address, bool HasMail);

/// <summary>Reads the offer of an entry, and makes its paper. Only for who works here.</summary>
public sealed class OfferView(IDbContextFactory<ShopContext> contexts, JudgedLines lines, Letterheads heads, TimeProvider time) : IPageView
{
    /// <summary>The entry with its offer.</summary>
    public async Task<Result<OfferSheet>> LoadAsync(Guid worker, Guid draft, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = await FindAsync(context, worker, draft, cancel);
        if (!found.IsOk)
            return Result<OfferSheet>.Refused(found.Refusals);
        var kept = found.Value;
        var shop = await ShopFacts.LoadAsync(context, time.GetUtcNow(), cancel);
        var order = EntryReading.Order(kept.Entry, draft, PrintRules.Of(shop.Settings.Profile), kept.Offer?.Language ?? "en");
        var judged = await JudgedOrder.OfAsync(context, order, (shop, lines), cancel);
        var address = await MailOffer.AddressAsync(context, kept, cancel);
        return new OfferSheet(kept.Entry.Name, kept.Offer, judged.Offer, address, shop.Settings.Mail.Host.Length > 0);
    }

    /// <summary>The paper of the offer with its number; null when there is none.</summary>
    public async Task<(string Number, byte[] Pdf)?> PaperAsync(Guid worker, Guid draft, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var found = await FindAsync(context, worker, draft, cancel);
        if (!found.IsOk || found.Value.Offer is not { } offer)
            return null;
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return (offer.Number, OfferPaper.Write(offer, settings, heads, time.GetUtcNow()));
    }

    private static async Task<Result<KeptOrder>> FindAsync(ShopContext context, Guid worker, Guid draft, CancellationToken cancel)
    {
        if (!await DraftAccess.IsClerkAsync(context, worker.ToString(), cancel))
            return new Refusal("no-right", "You are not signed in for this. Sign in as somebody who may do it.");
        var found = await DraftAccess.FindAsync(context, draft, worker.ToString(), cancel);
        return found.Then<KeptOrder>(d =>
            d.BecameOrder is null ? KeptOrder.Of(d) : new Refusal("draft-booked", "This order is booked already.")
        );
    }
}
