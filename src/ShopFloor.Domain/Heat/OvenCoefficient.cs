using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>Two readings of a bare aluminium block in the hot oven, with a probe in a hole to its middle.</summary>
/// <param name="Block">The block; best 10 to 20 mm thick, standing free.</param>
/// <param name="OvenCelsius">The oven's real temperature in °C, 60 to 300.</param>
/// <param name="FirstCelsius">First reading in °C, below the oven.</param>
/// <param name="SecondCelsius">Second reading in °C, between the first and the oven.</param>
/// <param name="SecondsBetween">Time between the readings in s, 10 to 36 000.</param>
/// <param name="Emissivity">Emissivity of the block: bare aluminium about 0.1.</param>
public sealed record BlockReadings(
    HeatBody Block,
    double OvenCelsius,
    double FirstCelsius,
    double SecondCelsius,
    double SecondsBetween,
    double Emissivity
);

/// <summary>Measures how strongly the workshop's own oven heats: the coefficient that all oven times rest on.</summary>
public static class OvenCoefficient
{
    private const double StrongestWM2K = 500;

    /// <summary>Convection coefficient in W/(m²·K) from the readings.</summary>
    public static Result<Explained<double>> FromReadings(BlockReadings readings) =>
        readings
            .Block.Check(new Entered())
            .Between(readings.OvenCelsius, 60, 300, "The oven's temperature", "°C")
            .Between(readings.FirstCelsius, 0, 300, "The first reading", "°C")
            .Between(readings.SecondCelsius, 0, 300, "The second reading", "°C")
            .That(
                readings.FirstCelsius < readings.SecondCelsius,
                "readings-not-rising",
                "The second reading must be higher than the first.",
                nameof(readings.SecondCelsius)
            )
            .That(
                readings.SecondCelsius < readings.OvenCelsius,
                "reading-over-oven",
                "The second reading must be below the oven's temperature.",
                nameof(readings.SecondCelsius)
            )
            .Between(readings.SecondsBetween, 10, 36_000, "The time between the readings", "s")
            .Between(readings.Emissivity, 0, 1, "The emissivity")
            .Then(() => Solve(readings));

    private static Result<Explained<double>> Solve(BlockReadings readings)
    {
        // More convection, less time: so the time less the measured one crosses zero once.
        double SecondsOver(double coefficient) =>
            LumpedModel.SecondsTo(
                readings.Block,
                Surroundings.Oven(readings.OvenCelsius, coefficient, readings.Emissivity),
                readings.FirstCelsius,
                readings.SecondCelsius
            ) - readings.SecondsBetween;

        const double Weakest = 0.01;
        if (SecondsOver(Weakest) < 0 || SecondsOver(StrongestWM2K) > 0)
        {
            return new Refusal(
                "no-coefficient-fits",
                $"No coefficient up to {StrongestWM2K:0} W/(m²·K) fits these readings: check the block, the temperatures and the time.",
                nameof(readings.SecondsBetween)
            );
        }

        var found = Roots.Bisect(SecondsOver, Weakest, StrongestWM2K);
        var biot = readings.Block.Biot(found);
        return biot < HeatUp.LumpedBelowBiot
            ? Explain.As(
                found,
                $"{found:0.0} W/(m²·K)",
                [
                    .. readings.Block.Inputs,
                    ExplainedInput.Of("oven", readings.OvenCelsius, "°C"),
                    ExplainedInput.Of("first reading", readings.FirstCelsius, "°C"),
                    ExplainedInput.Of("second reading", readings.SecondCelsius, "°C"),
                    ExplainedInput.Of("time between", readings.SecondsBetween, "s"),
                    ExplainedInput.Of("emissivity", readings.Emissivity),
                ],
                "the coefficient for which the block takes just this time between the two readings, radiation taken off",
                "lumped model: Incropera, Fundamentals of Heat and Mass Transfer, ch. 5.1–5.3"
            )
            : new Refusal("block-too-thick", "The block is too thick or leads heat too badly for this: take aluminium.", "Block");
    }
}
