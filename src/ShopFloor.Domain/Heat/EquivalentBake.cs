using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>A bake at another temperature that does as much, by Arrhenius. Information only: the coating's data sheet rules.</summary>
public static class EquivalentBake
{
    /// <summary>Gas constant in J/(mol·K): 2018 CODATA, exact.</summary>
    public const double GasConstant = 8.314462618;

    /// <summary>Minutes at another temperature.</summary>
    /// <param name="minutes">Known bake in min, above 0 to 600.</param>
    /// <param name="atCelsius">Its temperature in °C, 60 to 300.</param>
    /// <param name="otherCelsius">The other temperature in °C, 60 to 300.</param>
    /// <param name="activationKilojoulesPerMol">
    /// Activation energy in kJ/mol, 10 to 200; coatings lie between 40 and 100 (a published calculator page, weak).
    /// </param>
    public static Result<Explained<double>> Minutes(
        double minutes,
        double atCelsius,
        double otherCelsius,
        double activationKilojoulesPerMol = 66
    ) =>
        new Entered()
            .Positive(minutes, 600, "The bake", "min")
            .Between(atCelsius, 60, 300, "The temperature", "°C")
            .Between(otherCelsius, 60, 300, "The other temperature", "°C")
            .Between(activationKilojoulesPerMol, 10, 200, "The activation energy", "kJ/mol")
            .Then<Explained<double>>(() =>
            {
                var equivalent = minutes / RateFactor(atCelsius, otherCelsius, activationKilojoulesPerMol);
                return Explain.As(
                    equivalent,
                    $"{equivalent:0.#} min",
                    [
                        ExplainedInput.Of("bake", minutes, "min"),
                        ExplainedInput.Of("at", atCelsius, "°C"),
                        ExplainedInput.Of("instead at", otherCelsius, "°C"),
                        ExplainedInput.Of("activation energy", activationKilojoulesPerMol, "kJ/mol"),
                    ],
                    "minutes · exp(E/R · (1/T other − 1/T)), temperatures in kelvin",
                    "Arrhenius; 66 kJ/mol fits a published equal-cure window of a baking paint (12, 10, 8 min at 165, 170, 175 °C)",
                    isEstimate: true,
                    "For information only: the coating's data sheet rules."
                );
            });

    /// <summary>How many times faster the cure runs at the other temperature.</summary>
    /// <param name="atCelsius">Temperature in °C.</param>
    /// <param name="otherCelsius">Other temperature in °C.</param>
    /// <param name="activationKilojoulesPerMol">Activation energy in kJ/mol.</param>
    public static double RateFactor(double atCelsius, double otherCelsius, double activationKilojoulesPerMol) =>
        Math.Exp(activationKilojoulesPerMol * 1000 / GasConstant * (Reciprocal(atCelsius) - Reciprocal(otherCelsius)));

    /// <summary>Activation energy in kJ/mol from how the bake time shortens between two temperatures.</summary>
    /// <param name="minutes">Bake in min at the first temperature, above 0.</param>
    /// <param name="atCelsius">First temperature in °C.</param>
    /// <param name="otherMinutes">Bake in min at the second temperature, above 0.</param>
    /// <param name="otherCelsius">Second temperature in °C, other than the first.</param>
    public static double ActivationKilojoulesPerMol(double minutes, double atCelsius, double otherMinutes, double otherCelsius) =>
        GasConstant / 1000 * Math.Log(minutes / otherMinutes) / (Reciprocal(atCelsius) - Reciprocal(otherCelsius));

    private static double Reciprocal(double celsius) => 1 / (celsius + Radiation.KelvinOffset);
}
