using System.Numerics;

namespace ShopFloor.Planning.Exchange;

/// <summary>A number of a JSON document as its digits say, in units of a power of ten: exact, however many zeros it is written with.</summary>
/// <param name="Units">Its whole units; what is finer is cut off.</param>
/// <param name="IsWhole">Whether nothing finer was cut off.</param>
internal readonly record struct ScaledNumber(BigInteger Units, bool IsWhole)
{
    /// <summary>More digits before the point than any range allows.</summary>
    private const int MostDigits = 40;

    /// <summary>The number, in units of 10 to the power of minus <paramref name="decimals"/>.</summary>
    /// <param name="json">A number as JSON writes it.</param>
    /// <param name="decimals">How many decimals a unit stands for.</param>
    public static ScaledNumber Of(string json, int decimals)
    {
        if (json.Length < 10 && int.TryParse(json, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var whole))
            return new ScaledNumber(whole * (long)Math.Pow(10, decimals), true);
        var at = json.AsSpan().IndexOfAny('e', 'E');
        var (mantissa, power) = at < 0 ? (json, BigInteger.Zero) : (json[..at], Whole(json[(at + 1)..]));
        var point = mantissa.IndexOf('.', StringComparison.Ordinal);
        var digits = mantissa.Replace(".", "", StringComparison.Ordinal).TrimStart('-').TrimStart('0');
        var fraction = point < 0 ? 0 : mantissa.Length - point - 1;
        var significant = digits.TrimEnd('0');
        if (significant.Length == 0)
            return new ScaledNumber(0, true);
        var shift = power - fraction + (digits.Length - significant.Length) + decimals;
        var sign = json[0] == '-' ? -1 : 1;
        if (shift + significant.Length > MostDigits)
            return new ScaledNumber(sign * BigInteger.Pow(10, MostDigits), true);
        var kept = shift >= 0 ? significant : significant[..(int)BigInteger.Max(0, significant.Length + shift)];
        var units = kept.Length == 0 ? 0 : Whole(kept) * BigInteger.Pow(10, (int)BigInteger.Max(0, shift));
        return new ScaledNumber(sign * units, shift >= 0);
    }

    private static BigInteger Whole(string digits) => BigInteger.Parse(digits, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
}
