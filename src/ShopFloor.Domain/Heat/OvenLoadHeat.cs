using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>One kind of thing in an oven load.</summary>
/// <param name="MassKg">Mass in kg, above 0 to 500; trays count too.</param>
/// <param name="SpecificHeatJKgK">Specific heat capacity in J/(kg·K), above 0 to 10 000.</param>
public readonly record struct LoadMass(double MassKg, double SpecificHeatJKgK);

/// <summary>What a load takes from the heater.</summary>
/// <param name="EnergyKilojoules">Σ m·c·ΔT in kJ.</param>
/// <param name="LeastMinutes">No load can be hot earlier than this, in min, however thin its pieces.</param>
public readonly record struct LoadHeat(double EnergyKilojoules, double LeastMinutes);

/// <summary>A heavy load on a weak oven is slower than its pieces alone.</summary>
public static class OvenLoadHeat
{
    /// <summary>Energy of a load and the least heat-up time that the heater allows.</summary>
    /// <param name="load">All that goes in, at least one.</param>
    /// <param name="toCelsius">Cure temperature in °C, 60 to 300.</param>
    /// <param name="oven">The oven.</param>
    public static Result<Explained<LoadHeat>> For(IReadOnlyList<LoadMass> load, double toCelsius, OvenSettings oven) =>
        oven.Check(new Entered())
            .Between(toCelsius, 60, 300, "The cure temperature", "°C")
            .That(
                load.Count > 0 && load.All(m => m is { MassKg: > 0 and <= 500, SpecificHeatJKgK: > 0 and <= 10_000 }),
                "number-out-of-range",
                "Each mass must be more than 0 and at most 500 kg, with a heat capacity up to 10 000 J/(kg·K).",
                nameof(load)
            )
            .Then<Explained<LoadHeat>>(() =>
            {
                var joules = load.Sum(m => m.MassKg * m.SpecificHeatJKgK) * (toCelsius - oven.RoomCelsius);
                var heat = new LoadHeat(joules / 1000, joules / (oven.HeaterWatts - oven.LossWatts) / 60);
                return Explain.As(
                    heat,
                    $"{heat.EnergyKilojoules:0.#} kJ, at least {heat.LeastMinutes:0.#} min",
                    [
                        ExplainedInput.Of("mass", load.Sum(m => m.MassKg), "kg"),
                        ExplainedInput.Of("from", oven.RoomCelsius, "°C"),
                        ExplainedInput.Of("to", toCelsius, "°C"),
                        ExplainedInput.Of("heater", oven.HeaterWatts, "W"),
                        ExplainedInput.Of("loss", oven.LossWatts, "W"),
                    ],
                    "mass · heat capacity · temperature rise, summed; ÷ (heater power − loss)",
                    "conservation of energy",
                    isEstimate: true,
                    "The power lost through the walls is the owner's number: watch how long the empty oven holds its heater on."
                );
            });
}
