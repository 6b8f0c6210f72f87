using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter.Intake;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>A part of a price before and after a change, without tax.</summary>
public sealed record PartTurn(string Name, decimal Before, decimal After)
{
    /// <summary>What it comes to more or, below zero, less.</summary>
    public decimal More => After - Before;
}

/// <summary>Why the price of a line changes with its number: it is priced anew as a whole.</summary>
/// <param name="SameToday">What the number agreed before would cost by what holds now, with tax; null when it has no price now.</param>
/// <param name="Moved">The parts in which the price of the number agreed before is another one by what holds now.</param>
/// <param name="Extras">Discounts, rush and smallest price, as agreed before and for the new number.</param>
/// <param name="Tax">Percent of tax.</param>
/// <param name="ByHand">A person set the price of one piece, which stays.</param>
public sealed record PriceWhy(
    decimal? SameToday,
    IReadOnlyList<PartTurn> Moved,
    IReadOnlyList<PartTurn> Extras,
    Turn<decimal> Tax,
    bool ByHand
)
{
    private static readonly string[] ExtraCodes = ["quantity", "group", "rush", "minimum"];

    /// <summary>Compares the price agreed before, the same number by what holds now, and the new number.</summary>
    public static PriceWhy Of(AgreedPrice before, AgreedPrice? sameToday, AgreedPrice after)
    {
        var byHand = before.OverrideReason is not null;
        return new PriceWhy(
            sameToday?.Gross,
            byHand || sameToday is null
                ? []
                : [.. Turns(before, sameToday, p => p.Code == "tax" ? null : PriceWords.Group(p.Code, p.Name)).Where(t => t.More != 0)],
            byHand ? [] : [.. Turns(before, after, p => ExtraCodes.Contains(p.Code) ? p.Code : null)],
            new(before.TaxPercent, after.TaxPercent),
            byHand
        );
    }

    /// <summary>Parts that have the same name by <paramref name="keyOf"/>, in their order; those without one are left out.</summary>
    private static IEnumerable<PartTurn> Turns(AgreedPrice before, AgreedPrice after, Func<AgreedPart, string?> keyOf) =>
        before
            .Parts.Select(p => (Part: p, IsAfter: false))
            .Concat(after.Parts.Select(p => (Part: p, IsAfter: true)))
            .Where(x => keyOf(x.Part) is not null)
            .GroupBy(x => keyOf(x.Part)!)
            .Select(g => new PartTurn(
                g.Key is var key && ExtraCodes.Contains(key) ? g.Last().Part.Name : g.Key,
                g.Where(x => !x.IsAfter).Sum(x => x.Part.Amount),
                g.Where(x => x.IsAfter).Sum(x => x.Part.Amount)
            ));
}
