namespace ShopFloor.Domain.Yield;

/// <summary>How often so many of a number of like trials succeed; sound for hundred thousands of them.</summary>
internal static class Binomial
{
    // What is this much less than the sum so far changes no digit of it.
    private const double Negligible = 1e-18;

    // ln n! of small numbers is added up once; of larger ones Stirling's series has every digit.
    private const int Tabled = 64;
    private static readonly double[] LogFactorials = [.. Running()];

    /// <summary>Chance of at most <paramref name="most"/> of <paramref name="trials"/>.</summary>
    /// <param name="most">−1 or more; from <paramref name="trials"/> on it is certain.</param>
    /// <param name="trials">0 or more.</param>
    /// <param name="chance">Chance of each, above 0 and below 1.</param>
    /// <remarks>
    /// The smaller of the two tails is added up, from its largest term outward to where the terms count no more: some hundred of them,
    /// however many trials there are.
    /// </remarks>
    internal static double AtMost(int most, int trials, double chance)
    {
        if (most < 0)
            return 0;
        if (most >= trials)
            return 1;
        return most < trials * chance ? Below(most, trials, chance) : 1 - Below(trials - most - 1, trials, 1 - chance);
    }

    // From the term of `most` down: each is smaller than the one before, for `most` lies below the mean.
    private static double Below(int most, int trials, double chance)
    {
        var term = Math.Exp(LogChance(most, trials, chance));
        var sum = term;
        for (var k = most; k > 0 && term > sum * Negligible; k--)
        {
            term *= k / (trials - k + 1.0) * ((1 - chance) / chance);
            sum += term;
        }
        return sum;
    }

    private static double LogChance(int k, int trials, double chance) =>
        LogFactorial(trials) - LogFactorial(k) - LogFactorial(trials - k) + (k * Math.Log(chance)) + ((trials - k) * Math.Log(1 - chance));

    // Stirling's series (NIST Digital Library of Mathematical Functions, 5.11.1, from memory): from 64 on the term left out is below 1e-18.
    private static double LogFactorial(int n)
    {
        if (n < Tabled)
            return LogFactorials[n];
        var inverse = 1.0 / n;
        var square = inverse * inverse;
        var rest = inverse * ((1.0 / 12) - (square * ((1.0 / 360) - (square * ((1.0 / 1260) - (square / 1680))))));
        return ((n + 0.5) * Math.Log(n)) - n + (0.5 * Math.Log(2 * Math.PI)) + rest;
    }

    private static IEnumerable<double> Running()
    {
        var sum = 0.0;
        for (var n = 0; n < Tabled; n++)
        {
            sum += n < 2 ? 0 : Math.Log(n);
            yield return sum;
        }
    }
}
