using ShopFloor.Domain.Pricing;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>The parts of a price in words that a customer knows; what belongs together for them is one line.</summary>
public static class PriceWords
{
    /// <summary>The groups in the order shown, with their sum for the line. Groups of nothing are left out.</summary>
    public static IReadOnlyList<(string Key, decimal Amount)> Of(PriceBreakdown price) =>
        [
            .. price
                .Parts.GroupBy(p => Group(p.Code, p.Name))
                .Select(g => (g.Key, Amount: g.Sum(p => p.PerLine.Amount)))
                .Where(g => g.Amount != 0),
        ];

    /// <summary>The group that a part belongs to.</summary>
    public static string Group(string code, string name) =>
        code switch
        {
            "transfer" or "consumables" => "Print, ink and paper",
            "labour" => "Work by hand",
            "blank" => "The piece itself",
            "loss" => "In case something goes wrong",
            "overhead" or "profit" or "rounding" => "Workshop, tools and margin",
            "quantity" or "group" => "Discount",
            "rush" => "Done first (rush)",
            "minimum" => "Up to our smallest price",
            "override" => "Price agreed by hand",
            "tax" => name,
            _ when code.StartsWith("coating.", StringComparison.Ordinal) => "Coating",
            _ when code.StartsWith("machine.", StringComparison.Ordinal) => "Oven and press",
            _ => name,
        };
}
