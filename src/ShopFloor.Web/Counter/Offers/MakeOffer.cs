using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>What shall be offered.</summary>
/// <param name="Draft">The entry.</param>
/// <param name="Language">Of the paper, two letters.</param>
public sealed record OfferWish(Guid Draft, string Language);

/// <summary>An offer that was made.</summary>
public sealed record OfferMade(string Number);

/// <summary>
/// Offers an entry that is not booked: its prices of today hold for some days. Price and day are computed before the write gate, as booking
/// does; within it the entry only must be the same still.
/// </summary>
public sealed class MakeOffer(CommandRunner runner, IDbContextFactory<ShopContext> contexts, PromiseDay promises, JudgedLines lines)
    : IUseCase
{
    private static readonly NumberSeries Series = new("offer", "Q", PerYear: true, 4);

    private sealed record Prepared(int Edit, KeptOffer Offer);

    /// <summary>Makes it; an earlier offer of the entry is replaced.</summary>
    public async Task<Result<OfferMade>> RunAsync(Asked asked, OfferWish wish, CancellationToken cancel = default)
    {
        var prepared = await PrepareAsync(asked, wish, cancel);
        return !prepared.IsOk
            ? Result<OfferMade>.Refused(prepared.Refusals)
            : await runner.RunAsync<OfferWish, OfferMade>(
                nameof(MakeOffer),
                Allowed.Bench,
                asked,
                wish,
                work => KeepAsync(work, wish, prepared.Value, cancel),
                cancel
            );
    }

    private async Task<Result<Prepared>> PrepareAsync(Asked asked, OfferWish wish, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var by = asked.Worker?.ToString() ?? "";
        if (!await DraftAccess.IsClerkAsync(context, by, cancel))
            return new Refusal("no-right", "You are not signed in for this. Sign in as somebody who may do it.");
        var found = await DraftAccess.FindAsync(context, wish.Draft, by, cancel);
        if (!found.IsOk)
            return Result<Prepared>.Refused(found.Refusals);
        if (found.Value.BecameOrder is not null)
            return new Refusal("draft-booked", "This order is booked already.");
        var kept = KeptOrder.Of(found.Value);
        var shop = await ShopFacts.LoadAsync(context, runner.Now, cancel);
        if (OrderWalk.Farthest(kept.Entry, shop.Settings.Day(shop.At)) < CounterStep.You)
            return new Refusal("offer-early", "Enter the piece, its size, the picture and the look first: then there is a price to offer.");
        var order = EntryReading.Order(
            kept.Entry with
            {
                TodaysPrice = true,
            },
            wish.Draft,
            PrintRules.Of(shop.Settings.Profile),
            wish.Language
        );
        var judged = await JudgedOrder.OfAsync(context, order, (shop, lines), cancel);
        var customer = await CustomerAsync(context, judged.Order, cancel);
        return await OfferedAsync(judged, customer, (wish.Language, kept.Edit), cancel);
    }

    private async Task<Result<Prepared>> OfferedAsync(
        JudgedOrder judged,
        Customer? customer,
        (string Language, int Edit) of,
        CancellationToken cancel
    )
    {
        var name = customer?.Contact.Name ?? judged.Order.Contact.Name;
        if (name.Length == 0)
            return new Refusal("offer-name", "Say first whom the offer is for.", "name");
        if (judged.Lines.SelectMany(j => j.Quote.Faults).ToList() is { Count: > 0 } faults)
            return Result<Prepared>.Refused(faults);
        if (!judged.IsPriced)
            return new Refusal("offer-no-price", "There is no price yet that could be offered.");
        var promise = await promises.ForAsync(judged.Asked, cancel);
        if (promise.At is not { } ready)
            return Result<Prepared>.Refused(
                promise.NoDate("The workshop cannot make this within the days it plans ahead, so it cannot be offered.")
            );
        var reader = LetterReader.Of(of.Language);
        var paper = OfferPaper.Of(judged, customer, judged.Shop.Settings.Day(ready), reader);
        IReadOnlyList<Domain.Pricing.PriceBreakdown> prices = [.. judged.Lines.Select(j => j.Quote.Price!)];
        return new Prepared(of.Edit, new KeptOffer("", paper, prices, KeptOffer.AskedOf(judged.Order), name, reader.Language));
    }

    private static async Task<Customer?> CustomerAsync(ShopContext context, OrderInput order, CancellationToken cancel) =>
        order.Customer is { } id
            ? await context.Customers.AsNoTracking().FirstOrDefaultAsync(c => c.Id == id && c.ErasedAt == null, cancel)
            : null;

    private static async Task<Result<OfferMade>> KeepAsync(CommandWork work, OfferWish wish, Prepared prepared, CancellationToken cancel)
    {
        var found = await DraftAccess.FindAsync(work, wish.Draft, cancel);
        if (!found.IsOk)
            return Result<OfferMade>.Refused(found.Refusals);
        var kept = KeptOrder.Of(found.Value);
        if (kept.Edit != prepared.Edit)
            return new Refusal("draft-elsewhere", "This order was changed in another window. Open it again to see what is there.");
        var number = Series.Format(
            await work.NextNumberAsync(Series.CounterKey(prepared.Offer.Paper.Date), cancel),
            prepared.Offer.Paper.Date
        );
        var offer = prepared.Offer with { Number = number, Paper = prepared.Offer.Paper with { Number = number } };
        // What was offered counts until somebody chooses otherwise.
        var next = kept with
        {
            Offer = offer,
            Entry = kept.Entry with { TodaysPrice = false },
        };
        work.Audit(
            "offer made",
            number,
            kept.Offer?.Number ?? "",
            string.Create(CultureInfo.InvariantCulture, $"{offer.Total:0.00} {offer.Paper.Currency}")
        );
        work.Touch(Topic.Draft, wish.Draft);
        return found.Value.Keep(next.ToJson(), found.Value.Step, work.Now).Then(_ => Result<OfferMade>.Ok(new OfferMade(number)));
    }
}
