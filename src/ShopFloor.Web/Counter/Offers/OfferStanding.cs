using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Drafts;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>Whether an offer counts for its entry.</summary>
public enum OfferState
{
    /// <summary>Its prices are those that are booked.</summary>
    Counts,

    /// <summary>It would, but somebody of the workshop chose today's price.</summary>
    SetAside,

    /// <summary>The entry asks for something else now.</summary>
    Changed,

    /// <summary>Its last day is over.</summary>
    Over,
}

/// <summary>An offer as it stands to what is asked for now.</summary>
/// <param name="Offer">The offer.</param>
/// <param name="State">Whether it counts.</param>
/// <param name="Today">What the same would cost by today's rates, as customers are shown prices.</param>
public sealed record OfferStanding(KeptOffer Offer, OfferState State, decimal Today)
{
    /// <summary>Today's price is another one than was offered.</summary>
    public bool Differs => Today != Offer.Total;

    /// <summary>The order with the prices that were offered, where the offer of its entry still counts for it.</summary>
    internal static async Task<JudgedOrder> UnderAsync(ShopContext context, JudgedOrder judged, CancellationToken cancel)
    {
        if (judged.Order.Draft is not { } draft || !judged.IsPriced)
            return judged;
        var json = await context
            .Drafts.Where(d => d.Id == draft && d.BecameOrder == null && d.WipedAt == null && d.Json.Contains(KeptOffer.Mark))
            .Select(d => d.Json)
            .FirstOrDefaultAsync(cancel);
        if (json is null || JsonSerializer.Deserialize<KeptOrder>(json, JsonForms.Default)?.Offer is not { } offer)
            return judged;
        var today = judged.Lines.Sum(j => j.Quote.Price!.LineTotal.Amount);
        var standing = new OfferStanding(offer, StateOf(offer, judged), today);
        return judged with { Offer = standing, Lines = standing.State == OfferState.Counts ? Offered(judged, offer) : judged.Lines };
    }

    private static OfferState StateOf(KeptOffer offer, JudgedOrder judged)
    {
        var settings = judged.Shop.Settings;
        // Amounts in another currency are other prices.
        if (offer.Asked != KeptOffer.AskedOf(judged.Order) || offer.Paper.Currency != settings.Profile.Currency)
            return OfferState.Changed;
        return settings.Day(judged.Shop.At) > offer.Until ? OfferState.Over
            : judged.Order.TodaysPrice ? OfferState.SetAside
            : OfferState.Counts;
    }

    private static IReadOnlyList<JudgedLine> Offered(JudgedOrder judged, KeptOffer offer) =>
        [.. judged.Lines.Zip(offer.Prices).Select(l => l.First with { Quote = l.First.Quote with { Price = l.Second } })];
}
