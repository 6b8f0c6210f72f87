namespace ShopFloor.Web.Office.Calculators;

/// <summary>All calculators.</summary>
public static class CalculatorList
{
    /// <summary>In the order of the page, those of a topic together.</summary>
    public static IReadOnlyList<Calculator> For(CalculatorStart start) =>
        [
            .. FilmCalculators.All(),
            .. new OvenCalculators(start).All(),
            .. new CoolAndPressCalculators(start).All(),
            .. new PieceCalculators(start).All(),
            .. YieldCalculators.All(),
        ];
}
