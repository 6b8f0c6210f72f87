using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>Which model a heat-up or cooling time comes from.</summary>
public enum HeatModel
{
    /// <summary>One temperature for the whole body, Biot number under 0.1.</summary>
    Lumped,

    /// <summary>The exact one-dimensional series, Biot number from 0.1.</summary>
    Series,
}

/// <summary>How long a piece takes until even its coldest place has the temperature.</summary>
/// <param name="Seconds">Time in s.</param>
/// <param name="Model">The model that was picked.</param>
/// <param name="Biot">The Biot number h·Lc/k that decided.</param>
/// <param name="CoefficientWM2K">Mean surface coefficient in W/(m²·K), radiation included.</param>
public readonly record struct HeatTime(double Seconds, HeatModel Model, double Biot, double CoefficientWM2K);

/// <summary>Heating and cooling of a piece by air and walls. One call picks the model and says which.</summary>
public static class HeatUp
{
    /// <summary>Biot number below which the inside keeps up with the surface: Incropera, Fundamentals of Heat and Mass Transfer, eq. 5.10.</summary>
    public const double LumpedBelowBiot = 0.1;

    /// <summary>Time until the coldest (cooling: the hottest) place of the piece has the target temperature.</summary>
    /// <param name="body">The piece.</param>
    /// <param name="around">Oven or room.</param>
    /// <param name="fromCelsius">Start in °C, −50 to 1000.</param>
    /// <param name="toCelsius">Target in °C, between the start and what air and walls lead to.</param>
    public static Result<Explained<HeatTime>> TimeTo(HeatBody body, Surroundings around, double fromCelsius, double toCelsius) =>
        around
            .Check(body.Check(new Entered()))
            .Between(fromCelsius, -50, 1000, "The start temperature", "°C")
            .Between(toCelsius, -50, 1000, "The target temperature", "°C")
            .Then<Explained<HeatTime>>(() =>
            {
                var steady = around.SteadyCelsius();
                if (!IsReached(fromCelsius, toCelsius, steady))
                {
                    return new Refusal(
                        "target-never-reached",
                        $"The piece starts at {fromCelsius:0.#} °C and comes to {steady:0.#} °C in the end: {toCelsius:0.#} °C is not on the way.",
                        nameof(toCelsius)
                    );
                }

                var time = Time(body, around, fromCelsius, toCelsius);
                return Explain.As(
                    time,
                    Durations.InWords(time.Seconds),
                    [
                        .. body.Inputs,
                        .. around.Inputs,
                        ExplainedInput.Of("from", fromCelsius, "°C"),
                        ExplainedInput.Of("to", toCelsius, "°C"),
                        ExplainedInput.Of("Biot number", time.Biot),
                    ],
                    time.Model == HeatModel.Lumped
                        ? "one temperature for the whole piece: heat stored per degree ÷ heat flow in, integrated with convection and radiation"
                        : "the inside lags behind: exact series for the shape, with the mean coefficient of convection and radiation",
                    "Incropera, Fundamentals of Heat and Mass Transfer, ch. 5",
                    isEstimate: true,
                    Explanation.TryATestPiece
                );
            });

    /// <summary>The same without checks, for callers whose numbers were checked and whose target is reached.</summary>
    internal static HeatTime Time(HeatBody body, Surroundings around, double fromCelsius, double toCelsius)
    {
        if (fromCelsius.Equals(toCelsius))
        {
            return new HeatTime(0, HeatModel.Lumped, 0, 0);
        }

        var coefficient = LumpedModel.EquivalentCoefficientWM2K(around, fromCelsius, toCelsius);
        var biot = body.Biot(coefficient);
        if (biot < LumpedBelowBiot)
        {
            return new HeatTime(LumpedModel.SecondsTo(body, around, fromCelsius, toCelsius), HeatModel.Lumped, biot, coefficient);
        }

        var steady = around.SteadyCelsius();
        var series = new TransientSeries(body.Shape, coefficient * body.DepthMetres / body.Material.ConductivityWMK);
        var fourier = series.FourierAtMiddle((toCelsius - steady) / (fromCelsius - steady));
        var seconds = fourier * body.DepthMetres * body.DepthMetres / body.Material.DiffusivityM2S;
        return new HeatTime(seconds, HeatModel.Series, biot, coefficient);
    }

    /// <summary>Temperature in °C at the middle of a piece after a while, by the same choice of model.</summary>
    /// <param name="body">The piece.</param>
    /// <param name="around">Oven or room.</param>
    /// <param name="fromCelsius">Start in °C, −50 to 1000.</param>
    /// <param name="seconds">Time in s, 0 to 1 000 000.</param>
    public static Result<double> MiddleCelsiusAfter(HeatBody body, Surroundings around, double fromCelsius, double seconds) =>
        around
            .Check(body.Check(new Entered()))
            .Between(fromCelsius, -50, 1000, "The start temperature", "°C")
            .Between(seconds, 0, 1_000_000, "The time", "s")
            .Then<double>(() =>
            {
                var steady = around.SteadyCelsius();
                var whole = steady - fromCelsius;
                if (seconds <= 0 || Math.Abs(whole) < 1e-6)
                {
                    return fromCelsius;
                }

                // The time to a place on the way grows with the share of the way, so halving over that share inverts it.
                const double Nearest = 1e-9;
                var share = Roots.Bisect(
                    s => Time(body, around, fromCelsius, fromCelsius + (whole * s)).Seconds - seconds,
                    Nearest,
                    1 - Nearest
                );
                return fromCelsius + (whole * share);
            });

    internal static bool IsReached(double fromCelsius, double toCelsius, double steadyCelsius) =>
        fromCelsius.Equals(toCelsius)
        || (fromCelsius < toCelsius && toCelsius < steadyCelsius)
        || (fromCelsius > toCelsius && toCelsius > steadyCelsius);
}
