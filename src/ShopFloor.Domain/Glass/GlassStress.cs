using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Glass;

/// <summary>A kind of glass or another brittle material.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="ElasticMegapascals">Young's modulus in MPa.</param>
/// <param name="PoissonRatio">Poisson's ratio, 0 to below 0.5.</param>
/// <param name="ExpansionPerKelvin">Linear thermal expansion in 1/K.</param>
/// <param name="StrengthMegapascals">Characteristic bending strength in MPa.</param>
/// <param name="SuddenLimitKelvin">Published limit of a sudden temperature change in K, however fast.</param>
/// <param name="ConductivityWMK">Thermal conductivity in W/(m·K).</param>
/// <param name="Source">Where the numbers come from.</param>
public sealed record GlassKind(
    string Name,
    double ElasticMegapascals,
    double PoissonRatio,
    double ExpansionPerKelvin,
    double StrengthMegapascals,
    double SuddenLimitKelvin,
    double ConductivityWMK,
    string Source
)
{
    /// <summary>Ordinary soda-lime glass, annealed.</summary>
    public static GlassKind Annealed { get; } =
        new("ordinary glass", 70_000, 0.2, 9e-6, 45, 40, 1.0, "EN 572 values, read; sudden change 40 K EN 572-1, from memory");

    /// <summary>Toughened soda-lime glass. The sudden change stays at what the strength allows, below the standard's 200 K.</summary>
    public static GlassKind Toughened { get; } =
        new("toughened glass", 70_000, 0.2, 9e-6, 120, 152, 1.0, "EN 12150 strength, read; the lower of 152 K from strength and 200 K");

    /// <summary>Borosilicate glass 3.3; strength of a design handbook, sudden change from it rather than the maker's 160 K.</summary>
    public static GlassKind Borosilicate { get; } =
        new(
            "borosilicate glass",
            64_000,
            0.2,
            3.3e-6,
            25,
            94,
            1.2,
            "ISO 3585 data, read; 94 K from a design strength of 25 MPa, 160 K read"
        );

    /// <summary>Stress per kelvin when the surface changes at once and the inside not at all: E·α/(1 − ν), in MPa/K.</summary>
    public double StressPerKelvin => ElasticMegapascals * ExpansionPerKelvin / (1 - PoissonRatio);

    /// <summary>Temperature step in K that would use up the strength if the surface took it at once.</summary>
    public double StrengthLimitKelvin => StrengthMegapascals / StressPerKelvin;
}

/// <summary>How the hot glass is cooled.</summary>
public enum GlassCooling
{
    /// <summary>On a rack, no draught: about 10 W/(m²·K) with radiation.</summary>
    StillAir,

    /// <summary>In front of a fan: about 40 W/(m²·K).</summary>
    MovingAir,

    /// <summary>Laid on metal, stone or a wet cloth: as good as at once.</summary>
    ColdSolidOrWet,
}

/// <summary>What a cooling step does to the glass.</summary>
/// <param name="StepKelvin">The step from piece to surroundings in K.</param>
/// <param name="StressFactor">Share of the fully restrained stress that arises, 0 to 1.</param>
/// <param name="StressMegapascals">Largest tension in MPa.</param>
/// <param name="AllowedStepKelvin">Largest allowed step in K for this way of cooling.</param>
public readonly record struct GlassStep(double StepKelvin, double StressFactor, double StressMegapascals, double AllowedStepKelvin)
{
    /// <summary>True when the step is within the limit.</summary>
    public bool IsAllowed => StepKelvin <= AllowedStepKelvin;
}

/// <summary>
/// Thermal stress in a plate of glass: σ = E·α·ΔT/(1 − ν) · ψ, with ψ the Biot factor, the largest difference between mean and surface
/// temperature during the cooling (exact series; Manson's fit for ψ, cited by Lu and Fleck, Acta Materialia 46 (1998) 4755, is within 7 %).
/// </summary>
public static class GlassStress
{
    /// <summary>The Biot factor ψ, 0 for slow to 1 for sudden cooling of both faces.</summary>
    /// <param name="biot">h · half thickness ÷ k, above 0; from 1000 it counts as sudden.</param>
    public static double Factor(double biot)
    {
        if (biot >= 1000)
        {
            return 1;
        }

        // At large Biot numbers the peak comes early and takes many terms of the series.
        var series = new TransientSeries(HeatShape.Plate, biot, terms: 200);
        double Difference(double logFourier)
        {
            var fourier = Math.Exp(logFourier);
            return series.RemainingMean(fourier) - series.Remaining(fourier, 1);
        }

        return Difference(Peak(Difference, Math.Log(1e-5), Math.Log(10)));
    }

    /// <summary>What a cooling step does.</summary>
    /// <param name="glass">The glass.</param>
    /// <param name="thicknessMm">Thickness in mm, 0.5 to 50.</param>
    /// <param name="pieceCelsius">Piece in °C, −20 to 400.</param>
    /// <param name="surroundingsCelsius">What it is brought into or laid on, in °C, −20 to 400.</param>
    /// <param name="cooling">How it is cooled.</param>
    public static Result<Explained<GlassStep>> Step(
        GlassKind glass,
        double thicknessMm,
        double pieceCelsius,
        double surroundingsCelsius,
        GlassCooling cooling
    ) =>
        new Entered()
            .Between(thicknessMm, 0.5, 50, "The thickness", "mm")
            .Between(pieceCelsius, -20, 400, "The piece's temperature", "°C")
            .Between(surroundingsCelsius, -20, 400, "The temperature of the surroundings", "°C")
            .Then<Explained<GlassStep>>(() =>
            {
                var factor = FactorOf(cooling, thicknessMm, glass);
                var kelvin = Math.Abs(pieceCelsius - surroundingsCelsius);
                // The published limit holds for any speed; slower cooling allows more in proportion to the stress it makes.
                var allowed = Math.Min(glass.SuddenLimitKelvin, glass.StrengthLimitKelvin) / factor;
                var step = new GlassStep(kelvin, factor, glass.StressPerKelvin * kelvin * factor, allowed);
                return Explain.As(
                    step,
                    $"{step.StressMegapascals:0.#} MPa, {(step.IsAllowed ? "allowed" : "too much")}",
                    [
                        ExplainedInput.Word("glass", glass.Name),
                        ExplainedInput.Of("thickness", thicknessMm, "mm"),
                        ExplainedInput.Of("piece", pieceCelsius, "°C"),
                        ExplainedInput.Of("surroundings", surroundingsCelsius, "°C"),
                        ExplainedInput.Of("stress per kelvin", glass.StressPerKelvin, "MPa/K"),
                        ExplainedInput.Of("Biot factor", factor),
                        ExplainedInput.Of("allowed step", allowed, "K"),
                    ],
                    "stress per kelvin E·α/(1−ν) · step · Biot factor; allowed: the published sudden change ÷ Biot factor",
                    $"{glass.Source}; Biot factor from the exact series",
                    isEstimate: true,
                    "Scratched or chipped edges take far less. Wear eye protection with hot glass."
                );
            });

    private static double FactorOf(GlassCooling cooling, double thicknessMm, GlassKind glass) =>
        cooling switch
        {
            GlassCooling.StillAir => Factor(10 * thicknessMm / 2000 / glass.ConductivityWMK),
            GlassCooling.MovingAir => Factor(40 * thicknessMm / 2000 / glass.ConductivityWMK),
            GlassCooling.ColdSolidOrWet => 1,
            _ => throw new ArgumentOutOfRangeException(nameof(cooling), cooling, "No such way of cooling."),
        };

    private static double Peak(Func<double, double> function, double low, double high)
    {
        // One hill between two ends at zero: ternary search.
        for (var i = 0; i < 100; i++)
        {
            var (left, right) = (low + ((high - low) / 3), high - ((high - low) / 3));
            if (function(left) < function(right))
            {
                low = left;
            }
            else
            {
                high = right;
            }
        }

        return (low + high) / 2;
    }
}
