using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Yield;

/// <summary>How many pieces come through.</summary>
public static class ProcessYield
{
    private const int MostBlanks = 100_000;
    private const double SameWithin = 1e-12;

    /// <summary>First-pass yield of a step: pieces that came out right without scrap or rework, over pieces that went in.</summary>
    /// <param name="pieces">Went in, 1 to 1 000 000.</param>
    /// <param name="scrapped">Lost in the step.</param>
    /// <param name="reworked">Right only after rework.</param>
    public static Result<double> FirstPass(int pieces, int scrapped, int reworked) =>
        new Entered()
            .Between(pieces, 1, 1_000_000, "The number of pieces")
            .That(
                scrapped >= 0 && reworked >= 0 && scrapped + reworked <= pieces,
                "part-over-total",
                "Scrap and rework together must be between 0 and the number of pieces.",
                nameof(scrapped)
            )
            .Then<double>(() => (pieces - scrapped - reworked) / (double)pieces);

    /// <summary>Rolled throughput yield: the share that comes right first time through all steps, the product of their yields.</summary>
    /// <param name="stepYields">Yield of each step, 0 to 1.</param>
    public static Result<Explained<double>> Rolled(IReadOnlyList<double> stepYields) =>
        new Entered()
            .That(stepYields.Count > 0, "no-steps", "There must be at least one step.", nameof(stepYields))
            .That(
                stepYields.All(y => y is >= 0 and <= 1),
                "number-out-of-range",
                "Each step's yield must be between 0 and 1.",
                nameof(stepYields)
            )
            .Then<Explained<double>>(() =>
            {
                var rolled = stepYields.Aggregate(1.0, (product, y) => product * y);
                return Explain.As(
                    rolled,
                    $"{rolled * 100:0.#} %",
                    [.. stepYields.Select((y, i) => ExplainedInput.Of($"step {i + 1}", y * 100, "%"))],
                    "product of the steps' first-pass yields",
                    "rolled throughput yield (Keller, Six Sigma Demystified)"
                );
            });

    /// <summary>How many stock blanks to start so that enough come out good with a given certainty.</summary>
    /// <param name="good">Good pieces wanted, 1 to 10 000.</param>
    /// <param name="yield">Share that comes out good, 0.05 to 1.</param>
    /// <param name="certainty">Wanted certainty, 0.5 to 0.9999.</param>
    public static Result<Explained<int>> BlanksToStart(int good, double yield, double certainty = 0.95) =>
        new Entered()
            .Between(good, 1, 10_000, "The number of good pieces")
            .Between(yield, 0.05, 1, "The yield")
            .Between(certainty, 0.5, 0.9999, "The certainty")
            .Then(() =>
            {
                if (ToStart(good, yield, certainty) is not { } start)
                    return new Refusal("too-many-blanks", "More than 100 000 blanks would be needed.", nameof(good));

                return Result<Explained<int>>.Ok(
                    Explain.As(
                        start,
                        $"start {start}",
                        [
                            ExplainedInput.Of("good pieces wanted", good),
                            ExplainedInput.Of("yield", yield * 100, "%"),
                            ExplainedInput.Of("certainty", certainty * 100, "%"),
                        ],
                        "the smallest number of which, by the binomial distribution, enough are good with the wanted certainty",
                        "binomial distribution",
                        isEstimate: true
                    )
                );
            });

    /// <summary>Probability that at least <paramref name="good"/> of <paramref name="started"/> come out good.</summary>
    /// <param name="good">Wanted, 0 to <paramref name="started"/>.</param>
    /// <param name="started">Started, at least 1.</param>
    /// <param name="yield">Share that comes out good, above 0 to 1.</param>
    public static double AtLeast(int good, int started, double yield)
    {
        if (yield >= 1)
        {
            return 1;
        }

        return Binomial.AtMost(started - good, started, 1 - yield);
    }

    // On average good ÷ yield are needed; what certainty asks on top is searched for from there. Two numbers of the same size to the last digits
    // are the same: one of one with a yield of 95 % is as certain as 95 %.
    private static int? ToStart(int good, double yield, double certainty) =>
        Smallest.From(
            good,
            MostBlanks,
            (int)Math.Min(MostBlanks, Math.Ceiling(good / yield)),
            start => AtLeast(good, start, yield) >= certainty - SameWithin
        );

    /// <summary>Expected loss of a customer's own piece, which cannot be made again: reject rate · declared value.</summary>
    /// <param name="rejects">Pieces of the kind that were lost so far.</param>
    /// <param name="pieces">Pieces of the kind so far.</param>
    /// <param name="declaredValue">What the customer says it is worth, in the shop's currency, 0 to 1 000 000.</param>
    public static Result<Explained<decimal>> ExpectedLoss(int rejects, int pieces, decimal declaredValue) =>
        RejectRate
            .Estimate(rejects, pieces)
            .Then(rate =>
                new Entered()
                    .Between((double)declaredValue, 0, 1_000_000, "The declared value", "", nameof(declaredValue))
                    .Then<Explained<decimal>>(() =>
                    {
                        var loss = (decimal)rate.Value * declaredValue;
                        return Explain.As(
                            loss,
                            $"{loss:0.00}",
                            [
                                ExplainedInput.Of("lost so far", rejects),
                                ExplainedInput.Of("pieces so far", pieces),
                                ExplainedInput.Of("declared value", (double)declaredValue),
                            ],
                            "(lost + 1) ÷ (pieces + 2) · declared value",
                            "Laplace's rule of succession",
                            isEstimate: true
                        );
                    })
            );
}
