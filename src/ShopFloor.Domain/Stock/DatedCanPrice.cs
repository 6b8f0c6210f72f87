namespace ShopFloor.Domain.Stock;

/// <summary>What a can costs from a day on, without tax.</summary>
/// <param name="From">The first day, shop-local.</param>
/// <param name="Price">0 to 10,000.</param>
public sealed record DatedCanPrice(DateOnly From, decimal Price);
