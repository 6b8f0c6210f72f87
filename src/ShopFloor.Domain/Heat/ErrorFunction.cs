namespace ShopFloor.Domain.Heat;

/// <summary>The error function erf(x) = (2/√π)·∫₀ˣ exp(−t²)dt and its complement (Abramowitz and Stegun 7.1.6 and 7.1.14).</summary>
internal static class ErrorFunction
{
    private const double SeriesBelow = 2.5;

    public static double Erf(double x)
    {
        var size = Math.Abs(x);
        return size < SeriesBelow ? Series(x) : Math.Sign(x) * (1 - Fraction(size));
    }

    public static double Erfc(double x) => x < SeriesBelow ? 1 - Erf(x) : Fraction(x);

    // exp(x²)·erfc(x): near 1/(x·√π) for a large x, where neither factor can be written down any more.
    public static double ScaledErfc(double x) => x < SeriesBelow ? Math.Exp(x * x) * Erfc(x) : ScaledFraction(x);

    // exp(−x²) times a sum of positive terms: nothing cancels.
    private static double Series(double x)
    {
        var (term, sum) = (x, x);
        for (var n = 1; Math.Abs(term) > 1e-17 * Math.Abs(sum); n++)
        {
            term *= 2 * x * x / ((2 * n) + 1);
            sum += term;
        }

        return 2 / Math.Sqrt(Math.PI) * Math.Exp(-x * x) * sum;
    }

    private static double Fraction(double x) => Math.Exp(-x * x) * ScaledFraction(x);

    private static double ScaledFraction(double x)
    {
        var denominator = x;
        for (var n = 60; n >= 1; n--)
        {
            denominator = x + (n / 2.0 / denominator);
        }

        return 1 / Math.Sqrt(Math.PI) / denominator;
    }
}
