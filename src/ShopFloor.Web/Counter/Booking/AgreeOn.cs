using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Freezes a shown price into the price that was agreed.</summary>
public static class AgreeOn
{
    /// <summary>The category of a rate; zero per cent is an exempt workshop.</summary>
    private static string Category(decimal percent) => percent > 0 ? "S" : "E";

    /// <summary>The agreed price of a line, with its parts as shown.</summary>
    /// <param name="price">As shown.</param>
    /// <param name="isOwn">The line's pieces are the customer's own.</param>
    /// <param name="shop">The workshop as it was when the price was shown.</param>
    public static AgreedPrice Price(PriceBreakdown price, bool isOwn, ShopFacts shop)
    {
        var digits = Money.MinorDigits(price.UnitPrice.Currency);
        var percent = price.IncludedTaxPercent ?? shop.TaxPercentOf(isOwn);
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
        )
        {
            WithTax = price.IncludedTaxPercent is not null,
        };
    }
}
