using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>Electric energy of a station.</summary>
public static class EnergyUse
{
    /// <summary>Energy in kWh: power · hours · duty ÷ 1000.</summary>
    /// <param name="watts">Rated power in W, 0 to 1 000 000.</param>
    /// <param name="hours">Time switched on in h, 0 to 100 000.</param>
    /// <param name="duty">Share of that time that the heater is really on, 0 to 1; to be measured.</param>
    public static Result<Explained<double>> KilowattHours(double watts, double hours, double duty = 1) =>
        new Entered()
            .Between(watts, 0, 1_000_000, "The power", "W")
            .Between(hours, 0, 100_000, "The time", "h")
            .Between(duty, 0, 1, "The share of time the heater is on")
            .Then<Explained<double>>(() =>
            {
                var energy = watts * hours * duty / 1000;
                return Explain.As(
                    energy,
                    $"{energy:0.##} kWh",
                    [ExplainedInput.Of("power", watts, "W"), ExplainedInput.Of("time", hours, "h"), ExplainedInput.Of("duty", duty)],
                    "power · hours · share of time the heater is on ÷ 1000",
                    "definition of the kilowatt hour"
                );
            });

    /// <summary>Heat in kJ that warms a body: mass · heat capacity · temperature rise.</summary>
    /// <param name="massKg">Mass in kg.</param>
    /// <param name="specificHeatJKgK">Specific heat capacity in J/(kg·K).</param>
    /// <param name="fromCelsius">Start in °C.</param>
    /// <param name="toCelsius">End in °C.</param>
    public static double SensibleKilojoules(double massKg, double specificHeatJKgK, double fromCelsius, double toCelsius) =>
        massKg * specificHeatJKgK * (toCelsius - fromCelsius) / 1000;
}
