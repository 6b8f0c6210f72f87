using Microsoft.Extensions.Localization;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Counter.Offers;

/// <summary>What is said of an offer to who works here.</summary>
internal static class OfferWords
{
    /// <summary>Which price counts, and why.</summary>
    /// <param name="standing">The offer as it stands.</param>
    /// <param name="money">How an amount is written.</param>
    /// <param name="day">How a day is written.</param>
    /// <param name="texts">The screen's language.</param>
    public static string Of(OfferStanding standing, Func<decimal, string> money, Func<DateOnly, string> day, IStringLocalizer texts)
    {
        var (offer, offered, today) = (standing.Offer, money(standing.Offer.Total), money(standing.Today));
        return standing switch
        {
            { State: OfferState.Changed } => texts[
                "Offer {0} ({1}) was made for something else: the entry was changed since. Today's price counts, {2}.",
                offer.Number,
                offered,
                today
            ],
            { State: OfferState.Over } => texts[
                "Offer {0} ({1}) held until {2}. Today's price counts, {3}.",
                offer.Number,
                offered,
                day(offer.Until),
                today
            ],
            { State: OfferState.SetAside } => texts[
                "Offer {0} says {1} and holds until {2}; you chose today's price, {3}.",
                offer.Number,
                offered,
                day(offer.Until),
                today
            ],
            { Differs: true } => texts[
                "Offer {0} says {1} and holds until {2}: that price counts. Today it would be {3}.",
                offer.Number,
                offered,
                day(offer.Until),
                today
            ],
            _ => texts["Offer {0} says {1} and holds until {2}: that price counts.", offer.Number, offered, day(offer.Until)],
        };
    }

    /// <summary>E.g. <c>24.50 EUR</c>.</summary>
    public static string Money(decimal amount, string currency) =>
        $"{amount.ToString("N" + Domain.Quantities.Money.MinorDigits(currency), CultureInfo.CurrentCulture)}\u00A0{currency}";
}
