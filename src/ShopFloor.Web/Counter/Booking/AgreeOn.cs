using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Freezes a shown price into the price that was agreed.</summary>
public static class AgreeOn
{
    /// <summary>The category of the workshop's normal tax; zero per cent is an exempt workshop.</summary>
    private static string Category(decimal percent) => percent > 0 ? "S" : "E";

    /// <summary>The agreed price of a line, with its parts as shown.</summary>
    public static AgreedPrice Price(PriceBreakdown price, ShopFacts shop)
    {
        var digits = Money.MinorDigits(price.UnitPrice.Currency);
        var percent = shop.Settings.Profile.TaxPercent;
        var total = price.LineTotal.Amount;
        var factor = 1 + percent / 100;
        var (net, gross) = price.IncludedTaxPercent is null
            ? (total, Money.Round(total * factor, digits))
            : (Money.Round(total / factor, digits), total);
        return new AgreedPrice(
            [.. price.Parts.Select(p => new AgreedPart(p.Code, p.Name, p.PerLine.Amount) { Basis = p.Basis })],
            net,
            percent,
            Category(percent),
            gross,
            price.Hash,
            price.Parts.FirstOrDefault(p => p.Code == "override")?.Name
        );
    }
}
