using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>
/// A body so thick that its far side does not yet know: how deep a short heat reaches, and how hot a touched thing feels (Incropera,
/// Fundamentals of Heat and Mass Transfer, ch. 5.7; Holman, Heat Transfer, ch. 4.3).
/// </summary>
public static class SemiInfinite
{
    /// <summary>Temperature in °C at a depth after the face is suddenly held at another temperature.</summary>
    /// <param name="diffusivityM2S">Thermal diffusivity in m²/s, above 0.</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="faceCelsius">Face in °C.</param>
    /// <param name="depthMetres">Depth in m, at least 0.</param>
    /// <param name="seconds">Time in s, above 0.</param>
    public static double CelsiusFaceHeld(
        double diffusivityM2S,
        double fromCelsius,
        double faceCelsius,
        double depthMetres,
        double seconds
    ) => faceCelsius + ((fromCelsius - faceCelsius) * ErrorFunction.Erf(depthMetres / (2 * Math.Sqrt(diffusivityM2S * seconds))));

    /// <summary>Temperature in °C at a depth under a constant heat flow through the face.</summary>
    /// <param name="conductivityWMK">Conductivity in W/(m·K).</param>
    /// <param name="diffusivityM2S">Thermal diffusivity in m²/s.</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="fluxWM2">Heat flow in W/m².</param>
    /// <param name="depthMetres">Depth in m, at least 0.</param>
    /// <param name="seconds">Time in s, above 0.</param>
    public static double CelsiusFluxHeld(
        double conductivityWMK,
        double diffusivityM2S,
        double fromCelsius,
        double fluxWM2,
        double depthMetres,
        double seconds
    )
    {
        var spread = Math.Sqrt(diffusivityM2S * seconds);
        var depth = depthMetres / (2 * spread);
        var rise = (2 * spread * Math.Exp(-depth * depth) / Math.Sqrt(Math.PI)) - (depthMetres * ErrorFunction.Erfc(depth));
        return fromCelsius + (fluxWM2 / conductivityWMK * rise);
    }

    /// <summary>Temperature in °C at a depth when the face meets a fluid.</summary>
    /// <param name="material">The body.</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="fluidCelsius">Fluid in °C.</param>
    /// <param name="coefficientWM2K">Coefficient in W/(m²·K).</param>
    /// <param name="depthMetres">Depth in m, at least 0.</param>
    /// <param name="seconds">Time in s, above 0.</param>
    public static double CelsiusConvection(
        ThermalProperties material,
        double fromCelsius,
        double fluidCelsius,
        double coefficientWM2K,
        double depthMetres,
        double seconds
    )
    {
        var spread = Math.Sqrt(material.DiffusivityM2S * seconds);
        var depth = depthMetres / (2 * spread);
        var biot = coefficientWM2K / material.ConductivityWMK;
        // exp(biot·x + biot²·α·t)·erfc(depth + biot·√(α·t)), the square completed: the first factor alone soon has no number.
        var share = ErrorFunction.Erfc(depth) - (Math.Exp(-depth * depth) * ErrorFunction.ScaledErfc(depth + (biot * spread)));
        return fromCelsius + ((fluidCelsius - fromCelsius) * share);
    }

    /// <summary>Temperature in °C where two bodies touch, at once: weighted by their effusivities.</summary>
    /// <param name="firstCelsius">First body in °C.</param>
    /// <param name="firstEffusivity">Its effusivity, any unit.</param>
    /// <param name="secondCelsius">Second body in °C.</param>
    /// <param name="secondEffusivity">Its effusivity, the same unit.</param>
    public static double ContactCelsius(double firstCelsius, double firstEffusivity, double secondCelsius, double secondEffusivity) =>
        ((firstCelsius * firstEffusivity) + (secondCelsius * secondEffusivity)) / (firstEffusivity + secondEffusivity);

    /// <summary>How deep a temperature gets below a held face: whether glue or a seal behind the face is reached.</summary>
    /// <param name="material">The body.</param>
    /// <param name="fromCelsius">Start in °C, −50 to 400.</param>
    /// <param name="faceCelsius">Face in °C, −50 to 400.</param>
    /// <param name="limitCelsius">The temperature that matters, strictly between start and face.</param>
    /// <param name="seconds">Time in s, above 0 to 100 000 000.</param>
    /// <returns>The depth in mm, an upper bound for a body whose far side gives heat away.</returns>
    public static Result<Explained<double>> DepthMm(
        ThermalProperties material,
        double fromCelsius,
        double faceCelsius,
        double limitCelsius,
        double seconds
    ) =>
        new HeatBody(material, HeatShape.Plate, 0.001)
            .Check(new Entered())
            .Between(fromCelsius, -50, 400, "The start temperature", "°C")
            .Between(faceCelsius, -50, 400, "The face's temperature", "°C")
            .Positive(seconds, 1e8, "The time", "s")
            .That(
                (limitCelsius - fromCelsius) * (faceCelsius - limitCelsius) > 0,
                "limit-not-between",
                "The temperature that matters must lie between start and face.",
                nameof(limitCelsius)
            )
            .Then<Explained<double>>(() =>
            {
                var share = (limitCelsius - faceCelsius) / (fromCelsius - faceCelsius);
                var eta = Roots.Bisect(x => ErrorFunction.Erf(x) - share, 0, 6);
                var depth = 2 * eta * Math.Sqrt(material.DiffusivityM2S * seconds) * 1000;
                return Explain.As(
                    depth,
                    $"{depth:0.#} mm",
                    [
                        ExplainedInput.Of("start", fromCelsius, "°C"),
                        ExplainedInput.Of("face", faceCelsius, "°C"),
                        ExplainedInput.Of("temperature that matters", limitCelsius, "°C"),
                        ExplainedInput.Of("time", seconds, "s"),
                        ExplainedInput.Of("diffusivity", material.DiffusivityM2S * 1e6, "mm²/s"),
                    ],
                    "2 · inverse error function of the share of the way · √(diffusivity · time)",
                    "Incropera, Fundamentals of Heat and Mass Transfer, ch. 5.7",
                    isEstimate: true,
                    Explanation.TryATestPiece
                );
            });
}
