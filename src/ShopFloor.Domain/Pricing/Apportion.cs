using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Pricing;

/// <summary>Cuts a rounded amount into rounded shares without losing or making a coin (largest remainder).</summary>
public static class Apportion
{
    /// <summary>
    /// Shares that add up to exactly <paramref name="total"/>. Each exact share is cut down to the smallest coin; the missing coins go
    /// one each to the largest remainders, the earlier share first among equals.
    /// </summary>
    /// <param name="exact">The exact shares, any sign, in the order wanted. Their sum must be within <c>exact.Count</c> coins of the total.</param>
    /// <param name="total">The amount to hand out, already a whole number of coins.</param>
    /// <param name="digits">Digits after the point of the smallest coin, 0 to 6.</param>
    /// <returns>As many shares as given, in the same order, each less than one coin away from its exact share.</returns>
    /// <exception cref="ArgumentException">The shares do not belong to this total, or the total is no whole number of coins.</exception>
    public static IReadOnlyList<decimal> ByLargestRemainder(IReadOnlyList<decimal> exact, decimal total, int digits)
    {
        var coin = Coin(digits);
        var shares = exact.Select(share => Math.Floor(share / coin) * coin).ToArray();
        var missing = (total - shares.Sum()) / coin;
        if (missing != decimal.Truncate(missing) || missing < 0 || missing > exact.Count)
            throw new ArgumentException($"Shares of {exact.Sum()} cannot add up to {total}.", nameof(total));
        var neediest = Enumerable.Range(0, exact.Count).OrderByDescending(i => exact[i] - shares[i]).ThenBy(i => i).Take((int)missing);
        foreach (var i in neediest)
            shares[i] += coin;
        return shares;
    }

    /// <summary>Cuts an amount by weights, e.g. a discount over the lines that it concerns; a sum of weights of zero counts as equal weights.</summary>
    /// <param name="total">The amount, rounded to its currency's coin.</param>
    /// <param name="weights">At least one weight, none negative.</param>
    /// <returns>Shares that add up to the total exactly.</returns>
    /// <exception cref="ArgumentException">There is no weight, or one is negative.</exception>
    public static IReadOnlyList<Money> ByWeight(Money total, IReadOnlyList<decimal> weights) =>
        [.. ByWeight(total.Amount, weights, Money.MinorDigits(total.Currency)).Select(s => total with { Amount = s })];

    /// <summary>Cuts an amount by weights, to a number of digits; a sum of weights of zero counts as equal weights.</summary>
    /// <param name="total">The amount, with no more digits than that.</param>
    /// <param name="weights">At least one weight, none negative.</param>
    /// <param name="digits">Digits after the point, 0 to 6.</param>
    /// <returns>Shares that add up to the total exactly.</returns>
    /// <exception cref="ArgumentException">There is no weight, or one is negative.</exception>
    public static IReadOnlyList<decimal> ByWeight(decimal total, IReadOnlyList<decimal> weights, int digits)
    {
        if (weights.Count == 0 || weights.Any(w => w < 0))
            throw new ArgumentException("Weights are needed, and none may be negative.", nameof(weights));
        var sum = weights.Sum();
        var exact = weights.Select(w => sum == 0 ? total / weights.Count : total * w / sum).ToArray();
        return ByLargestRemainder(exact, total, digits);
    }

    internal static decimal Coin(int digits) => new(1, 0, 0, isNegative: false, (byte)digits);
}
