using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>One part of a line's cost, estimated and as it turned out.</summary>
/// <param name="Code">Stable code of the part.</param>
/// <param name="Name">Plain name.</param>
/// <param name="Estimate">Zero when the part was not foreseen.</param>
/// <param name="Actual">Zero when the part was not needed.</param>
public sealed record CostDifference(string Code, string Name, Money Estimate, Money Actual)
{
    /// <summary>Actual less estimate: above zero means dearer than thought.</summary>
    public Money Difference => Actual - Estimate;
}

/// <summary>Sets the cost of the work done beside the estimate, part by part.</summary>
public static class EstimateAndActual
{
    /// <summary>Compares; both sides are rounded for showing, each part on its own.</summary>
    /// <param name="estimate">The cost the price was made from.</param>
    /// <param name="actual">The cost from measured times and use, at the same rates unless the rates shall be compared too.</param>
    /// <param name="currency">Of both.</param>
    /// <returns>Every part of either, estimate's order first.</returns>
    public static IReadOnlyList<CostDifference> Compare(LineCost estimate, LineCost actual, string currency) =>
        [
            .. estimate
                .Parts.Concat(actual.Parts)
                .DistinctBy(p => p.Code, StringComparer.Ordinal)
                .Select(p => new CostDifference(p.Code, p.Name, Amount(estimate, p.Code, currency), Amount(actual, p.Code, currency))),
        ];

    private static Money Amount(LineCost cost, string code, string currency) =>
        new Money(cost.Parts.Where(p => string.Equals(p.Code, code, StringComparison.Ordinal)).Sum(p => p.Amount), currency).Rounded();
}
