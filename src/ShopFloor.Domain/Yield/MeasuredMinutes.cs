using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Yield;

/// <summary>What measured times say about a step.</summary>
/// <param name="Minutes">The minutes to plan and price with.</param>
/// <param name="Used">How many measurements went in.</param>
/// <param name="LeftOut">How many were left out as mishaps.</param>
public readonly record struct StepMinutes(double Minutes, int Used, int LeftOut)
{
    /// <summary>True when the measurements replaced the estimate.</summary>
    public bool IsMeasured => Used > 0;
}

/// <summary>Measured minutes replace the estimate once there are enough of them; a forgotten timer must not spoil them.</summary>
public static class MeasuredMinutes
{
    /// <summary>Measurements needed before they count: 5, common practice, no source.</summary>
    public const int Enough = 5;

    // Three robust standard deviations; 1.4826 makes the median deviation one for normal data (Hampel's rule).
    private const double Cut = 3 * 1.4826;

    /// <summary>Mean of the measurements without those far from the median, or the estimate while there are too few.</summary>
    /// <param name="measuredMinutes">Measured minutes, each 0 to 10 000.</param>
    /// <param name="estimatedMinutes">The owner's estimate in min, 0 to 10 000.</param>
    public static Result<Explained<StepMinutes>> Of(IReadOnlyList<double> measuredMinutes, double estimatedMinutes) =>
        new Entered()
            .Between(estimatedMinutes, 0, 10_000, "The estimate", "min")
            .That(
                measuredMinutes.All(m => m is >= 0 and <= 10_000),
                "number-out-of-range",
                "Each measured time must be between 0 and 10 000 min.",
                nameof(measuredMinutes)
            )
            .Then<Explained<StepMinutes>>(() =>
            {
                var minutes = measuredMinutes.Count < Enough ? new StepMinutes(estimatedMinutes, 0, 0) : Robust(measuredMinutes);
                return Explain.As(
                    minutes,
                    $"{minutes.Minutes:0.#} min",
                    [
                        ExplainedInput.Of("estimate", estimatedMinutes, "min"),
                        ExplainedInput.Of("measurements", measuredMinutes.Count),
                        ExplainedInput.Of("left out", minutes.LeftOut),
                    ],
                    minutes.IsMeasured
                        ? "mean of the measurements within three robust standard deviations of their median"
                        : $"the estimate stands until {Enough} measurements are there",
                    "Hampel's rule; the number of measurements: " + Explanation.CommonPractice,
                    isEstimate: !minutes.IsMeasured
                );
            });

    private static StepMinutes Robust(IReadOnlyList<double> measured)
    {
        var median = Median(measured);
        var spread = Median([.. measured.Select(m => Math.Abs(m - median))]);
        // A tenth off the median is never a mishap, even when most measurements are equal.
        var allowed = Math.Max(Cut * spread, 0.1 * median);
        double[] kept = [.. measured.Where(m => Math.Abs(m - median) <= allowed)];
        return new StepMinutes(kept.Average(), kept.Length, measured.Count - kept.Length);
    }

    private static double Median(IReadOnlyList<double> values)
    {
        double[] sorted = [.. values.Order()];
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
