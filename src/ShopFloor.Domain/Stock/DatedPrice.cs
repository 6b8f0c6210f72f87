namespace ShopFloor.Domain.Stock;

/// <summary>A purchase price from a day on, without tax: of a can, or of one of a stock item.</summary>
/// <param name="From">The first day, shop-local.</param>
/// <param name="Price">At least 0; who keeps it says the most.</param>
public sealed record DatedPrice(DateOnly From, decimal Price)
{
    /// <summary>The most dated prices of one thing.</summary>
    public const int Most = 200;

    /// <summary>The price on a day.</summary>
    /// <param name="before">What held before the first dated one.</param>
    /// <param name="prices">In order of their days.</param>
    /// <param name="day">Shop-local.</param>
    public static decimal On(decimal before, IReadOnlyList<DatedPrice> prices, DateOnly day) =>
        prices.LastOrDefault(p => p.From <= day)?.Price ?? before;

    /// <summary>These prices with one more, in order of their days; one of the same day is replaced.</summary>
    public static IReadOnlyList<DatedPrice> With(IReadOnlyList<DatedPrice> prices, DatedPrice more) =>
        [.. prices.Where(p => p.From != more.From).Append(more).OrderBy(p => p.From)];
}
