using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>How the profit is counted.</summary>
public enum ProfitKind
{
    /// <summary>Percent of the cost: price = cost × (1 + p).</summary>
    MarkUp,

    /// <summary>Percent of the price: price = cost ÷ (1 − p).</summary>
    Margin,
}

/// <summary>A discount from a number of pieces on.</summary>
/// <param name="FromPieces">Smallest number of alike pieces in the line, 2 or more.</param>
/// <param name="DiscountPercent">0 to 90.</param>
public sealed record QuantityStep(int FromPieces, decimal DiscountPercent);

/// <summary>A discount for a group of customers.</summary>
/// <param name="Group">Code of the group, as the customer carries it.</param>
/// <param name="Name">What the group is called on the price.</param>
/// <param name="DiscountPercent">0 to 90.</param>
public sealed record GroupDiscount(string Group, string Name, decimal DiscountPercent);

/// <summary>How cost becomes price, from a day on. A change is a new rule.</summary>
/// <param name="Code">Stable name, part of what a price is explained by.</param>
/// <param name="ValidFrom">First day on which it counts.</param>
/// <param name="Profit">Whether <paramref name="ProfitPercent"/> is of the cost or of the price.</param>
/// <param name="ProfitPercent">Mark-up 0 to 1000, margin 0 to 95.</param>
/// <param name="MinimumPerLine">The least a line costs before tax, after all discounts; at least zero.</param>
/// <param name="RushPercent">Added when the customer wants it before its turn, 0 to 500.</param>
/// <param name="QuantitySteps">Discounts by number; the highest step reached counts alone.</param>
/// <param name="GroupDiscounts">Discounts by customer group.</param>
/// <param name="DepositPercent">Share of the price to be paid on booking, 0 to 100.</param>
/// <param name="RoundUnitPriceTo">The shown price of a piece is a multiple of this, e.g. 0.01, 0.10 or 0.50.</param>
public sealed record PriceRule(
    string Code,
    DateOnly ValidFrom,
    ProfitKind Profit,
    decimal ProfitPercent,
    Money MinimumPerLine,
    decimal RushPercent,
    IReadOnlyList<QuantityStep> QuantitySteps,
    IReadOnlyList<GroupDiscount> GroupDiscounts,
    decimal DepositPercent,
    decimal RoundUnitPriceTo
)
{
    /// <summary>The rule in force on a day: the one with the latest start that is not after it.</summary>
    /// <returns>The rule, or the refusal <c>no-price-rule</c>.</returns>
    public static Result<PriceRule> On(IEnumerable<PriceRule> rules, DateOnly day)
    {
        var inForce = rules
            .Where(r => r.ValidFrom <= day)
            .OrderBy(r => r.ValidFrom)
            .ThenBy(r => r.Code, StringComparer.Ordinal)
            .LastOrDefault();
        return inForce is null
            ? new Refusal(
                "no-price-rule",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"No price rule is in force on {day:yyyy-MM-dd}: enter one that starts on or before it."
                )
            )
            : inForce;
    }

    /// <summary>The same numbers in another currency; where its smallest coin is larger, prices are rounded to that.</summary>
    public PriceRule In(string currency)
    {
        var coin = Apportion.Coin(Money.MinorDigits(currency));
        return this with
        {
            MinimumPerLine = MinimumPerLine with { Currency = currency },
            RoundUnitPriceTo = RoundUnitPriceTo % coin == 0 ? RoundUnitPriceTo : coin,
        };
    }

    /// <summary>What is wrong with the rule; empty when nothing is.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> found = [];
        if (string.IsNullOrWhiteSpace(Code))
            found.Add(new("code-missing", "Give the price rule a name.", nameof(Code)));
        var highest = Profit == ProfitKind.Margin ? 95m : 1000m;
        if (ProfitPercent < 0 || ProfitPercent > highest)
            found.Add(
                new(
                    "profit",
                    $"A {(Profit == ProfitKind.Margin ? "margin" : "mark-up")} is between 0 and {highest} %.",
                    nameof(ProfitPercent)
                )
            );
        if (MinimumPerLine.Amount is < 0 or > 1_000_000)
            found.Add(new("minimum", "The least price of a line is between 0 and 1,000,000.", nameof(MinimumPerLine)));
        if (RushPercent is < 0 or > 500)
            found.Add(new("rush", "The addition for rush work is between 0 and 500 %.", nameof(RushPercent)));
        if (DepositPercent is < 0 or > 100)
            found.Add(new("deposit", "A deposit is between 0 and 100 % of the price.", nameof(DepositPercent)));
        CheckRounding(found);
        CheckDiscounts(found);
        return found;
    }

    /// <summary>The step that a number of pieces reaches, or null.</summary>
    public QuantityStep? StepFor(int pieces) => QuantitySteps.Where(s => s.FromPieces <= pieces).MaxBy(s => s.FromPieces);

    /// <summary>The discount of a customer's group, or null.</summary>
    public GroupDiscount? DiscountFor(string? group) =>
        group is null ? null : GroupDiscounts.FirstOrDefault(g => string.Equals(g.Group, group, StringComparison.Ordinal));

    private void CheckRounding(List<Refusal> found)
    {
        var coin = Apportion.Coin(Money.MinorDigits(MinimumPerLine.Currency));
        if (RoundUnitPriceTo < coin || RoundUnitPriceTo > 1000 || RoundUnitPriceTo % coin != 0)
            found.Add(
                new(
                    "round-to",
                    $"Prices are rounded to a multiple of {coin}, the smallest coin, and of at most 1000.",
                    nameof(RoundUnitPriceTo)
                )
            );
    }

    private void CheckDiscounts(List<Refusal> found)
    {
        if (QuantitySteps.Any(s => s.FromPieces < 2 || s.DiscountPercent is < 0 or > 90))
            found.Add(new("quantity-step", "A quantity step begins at 2 pieces or more and takes off 0 to 90 %.", nameof(QuantitySteps)));
        if (QuantitySteps.DistinctBy(s => s.FromPieces).Count() != QuantitySteps.Count)
            found.Add(new("quantity-step-twice", "Two quantity steps begin at the same number.", nameof(QuantitySteps)));
        if (GroupDiscounts.Any(g => g.DiscountPercent is < 0 or > 90))
            found.Add(new("group-discount", "A group's discount is 0 to 90 %.", nameof(GroupDiscounts)));
        if (GroupDiscounts.DistinctBy(g => g.Group, StringComparer.Ordinal).Count() != GroupDiscounts.Count)
            found.Add(new("group-twice", "Each customer group has one discount.", nameof(GroupDiscounts)));
    }
}
