using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>One oven of the workshop: the owner's own numbers.</summary>
/// <param name="ConvectionWM2K">Convection coefficient in W/(m²·K), above 0 to 500; measured by <see cref="OvenCoefficient"/>.</param>
/// <param name="ErrorKelvin">What the oven shows minus what it really has, −60 to 60 K; measured with a second thermometer.</param>
/// <param name="HeaterWatts">Heater power in W, above 0 to 100 000.</param>
/// <param name="LossWatts">Power that goes through the walls at cure temperature, 0 to below the heater power, in W.</param>
/// <param name="RoomCelsius">Where the pieces come from, 0 to 45 °C.</param>
/// <param name="Emissivity">Emissivity of the coated pieces, 0 to 1.</param>
public sealed record OvenSettings(
    double ConvectionWM2K,
    double ErrorKelvin,
    double HeaterWatts,
    double LossWatts,
    double RoomCelsius,
    double Emissivity
)
{
    /// <summary>A bench-top convection oven until it is measured: 15 W/(m²·K), no error, 1500 W, 300 W loss, room at 20 °C (common practice, no source).</summary>
    public static OvenSettings Default { get; } = new(15, 0, 1500, 300, 20, Surroundings.CoatedEmissivity);

    /// <summary>What to set in °C so that the oven really has the wanted temperature: wanted + what it shows too much.</summary>
    /// <param name="wantedCelsius">Wanted temperature in °C, 30 to 300.</param>
    public Result<Explained<double>> SetPointCelsius(double wantedCelsius) =>
        Check(new Entered())
            .Between(wantedCelsius, 30, 300, "The wanted temperature", "°C")
            .Then<Explained<double>>(() =>
            {
                var set = wantedCelsius + ErrorKelvin;
                return Explain.As(
                    set,
                    $"set {set:0.#} °C",
                    [ExplainedInput.Of("wanted", wantedCelsius, "°C"), ExplainedInput.Of("shows too much by", ErrorKelvin, "K")],
                    "wanted + what the oven shows too much",
                    "the owner's own measurement with a second thermometer"
                );
            });

    /// <summary>These settings when every number is possible, else what is wrong with which.</summary>
    public Result<OvenSettings> Checked() => Check(new Entered()).Then<OvenSettings>(() => this);

    internal Entered Check(Entered entered) =>
        entered
            .Positive(ConvectionWM2K, 500, "The oven's coefficient", "W/(m²·K)")
            .Between(ErrorKelvin, -60, 60, "The oven's error", "K")
            .Positive(HeaterWatts, 100_000, "The heater power", "W")
            .Between(LossWatts, 0, 100_000, "The loss", "W")
            .That(
                LossWatts < HeaterWatts || !(HeaterWatts > 0),
                "loss-over-power",
                "The loss must be less than the heater power.",
                nameof(LossWatts)
            )
            .Between(RoomCelsius, 0, 45, "The room temperature", "°C")
            .Between(Emissivity, 0, 1, "The emissivity");
}
