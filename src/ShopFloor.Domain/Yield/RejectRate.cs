using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Yield;

/// <summary>A share seen in a count, with the range it likely lies in.</summary>
/// <param name="Good">How many were good.</param>
/// <param name="Total">Of how many.</param>
/// <param name="Low">Lower end of the likely range, 0 to 1.</param>
/// <param name="High">Upper end, 0 to 1.</param>
public readonly record struct LikelyShare(int Good, int Total, double Low, double High)
{
    /// <summary>In plain words, e.g. <c>34 of 40 good, likely 71–93 %</c>.</summary>
    public string InWords => Total == 0 ? "nothing counted yet" : $"{Good} of {Total} good, likely {Low * 100:0}–{High * 100:0} %";
}

/// <summary>What a count of good and bad pieces tells.</summary>
public static class RejectRate
{
    /// <summary>Standard normal quantile for 95 % two-sided: 1.959964.</summary>
    public const double Z95 = 1.959963984540054;

    /// <summary>Standard normal quantile for 90 % two-sided: 1.644854.</summary>
    public const double Z90 = 1.6448536269514722;

    /// <summary>Estimated reject rate before and after some pieces: (rejects + 1)/(pieces + 2), so that nothing counts as never or always.</summary>
    /// <param name="rejects">Rejected pieces, 0 to <paramref name="pieces"/>.</param>
    /// <param name="pieces">All pieces, 0 to 1 000 000.</param>
    public static Result<Explained<double>> Estimate(int rejects, int pieces) =>
        Counted(rejects, pieces, nameof(rejects))
            .Then<Explained<double>>(() =>
            {
                var rate = (rejects + 1) / (pieces + 2.0);
                return Explain.As(
                    rate,
                    $"{rate * 100:0.#} %",
                    [ExplainedInput.Of("rejected", rejects), ExplainedInput.Of("pieces", pieces)],
                    "(rejected + 1) ÷ (pieces + 2)",
                    "Laplace's rule of succession"
                );
            });

    /// <summary>The range a share of good pieces likely lies in (Wilson 1927; the interval that Newcombe 1998 recommends).</summary>
    /// <param name="good">Good pieces, 0 to <paramref name="total"/>.</param>
    /// <param name="total">All pieces, 0 to 1 000 000; 0 gives the whole range.</param>
    /// <param name="z">Normal quantile of the confidence, above 0 to 5.</param>
    public static Result<Explained<LikelyShare>> Likely(int good, int total, double z = Z95) =>
        Counted(good, total, nameof(good))
            .Positive(z, 5, "The quantile")
            .Then<Explained<LikelyShare>>(() =>
            {
                var share = Wilson(good, total, z);
                return Explain.As(
                    share,
                    share.InWords,
                    [ExplainedInput.Of("good", good), ExplainedInput.Of("of", total), ExplainedInput.Of("normal quantile", z)],
                    "Wilson score interval: (p + z²/2n ± z·√(p(1−p)/n + z²/4n²)) ÷ (1 + z²/n)",
                    "Wilson 1927; Newcombe, Statistics in Medicine 17 (1998) 857"
                );
            });

    private static LikelyShare Wilson(int good, int total, double z)
    {
        if (total == 0)
        {
            return new LikelyShare(0, 0, 0, 1);
        }

        var p = good / (double)total;
        var shrink = 1 + (z * z / total);
        var centre = (p + (z * z / (2 * total))) / shrink;
        var half = z / shrink * Math.Sqrt((p * (1 - p) / total) + (z * z / (4.0 * total * total)));
        // At the ends the interval touches 0 or 1 exactly, which rounding would miss.
        return new LikelyShare(good, total, good == 0 ? 0 : centre - half, good == total ? 1 : centre + half);
    }

    private static Entered Counted(int part, int total, string field) =>
        new Entered()
            .Between(total, 0, 1_000_000, "The number of pieces")
            .That(part >= 0 && part <= total, "part-over-total", "The part must be between 0 and the number of pieces.", field);
}
