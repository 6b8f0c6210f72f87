using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>Heat radiation between a surface and large surroundings.</summary>
internal static class Radiation
{
    /// <summary>Stefan–Boltzmann constant in W/(m²·K⁴): 2018 CODATA.</summary>
    public const double StefanBoltzmann = 5.670374419e-8;

    /// <summary>0 °C in K, exact.</summary>
    public const double KelvinOffset = 273.15;

    public static double FluxWM2(double emissivity, double fromCelsius, double toCelsius) =>
        emissivity * StefanBoltzmann * (Fourth(fromCelsius) - Fourth(toCelsius));

    private static double Fourth(double celsius)
    {
        var square = (celsius + KelvinOffset) * (celsius + KelvinOffset);
        return square * square;
    }
}

/// <summary>What a piece gives heat to or takes heat from: air and walls.</summary>
/// <param name="AirCelsius">Air in °C, −50 to 1000.</param>
/// <param name="WallCelsius">Walls that radiate, in °C, −50 to 1000.</param>
/// <param name="ConvectionWM2K">Convection coefficient in W/(m²·K), above 0 to 10 000; not used when <paramref name="StillAirHeightMetres"/> is given.</param>
/// <param name="Emissivity">Emissivity of the surface, 0 to 1.</param>
/// <param name="StillAirHeightMetres">Height in m of an upright face in still air, whose coefficient then follows its temperature; or null.</param>
public sealed record Surroundings(
    double AirCelsius,
    double WallCelsius,
    double ConvectionWM2K,
    double Emissivity,
    double? StillAirHeightMetres = null
)
{
    /// <summary>Emissivity of a sprayed face, about that of any paint: 0.9, published emissivity tables.</summary>
    public const double CoatedEmissivity = 0.9;

    /// <summary>An oven whose air and walls have the same temperature.</summary>
    /// <param name="celsius">Temperature in °C.</param>
    /// <param name="convectionWM2K">The oven's own coefficient in W/(m²·K), see <see cref="OvenCoefficient"/>.</param>
    /// <param name="emissivity">Emissivity of the surface.</param>
    public static Surroundings Oven(double celsius, double convectionWM2K, double emissivity = CoatedEmissivity) =>
        new(celsius, celsius, convectionWM2K, emissivity);

    /// <summary>A rack in a room without draught.</summary>
    /// <param name="roomCelsius">Room in °C.</param>
    /// <param name="heightMm">Height of the piece in mm.</param>
    /// <param name="emissivity">Emissivity of the surface.</param>
    public static Surroundings StillAir(double roomCelsius, double heightMm = 100, double emissivity = CoatedEmissivity) =>
        new(roomCelsius, roomCelsius, 5, emissivity, heightMm / 1000);

    /// <summary>Heat flow into a surface in W/m²; negative when it gives heat away.</summary>
    /// <param name="surfaceCelsius">The surface in °C.</param>
    public double FluxIntoWM2(double surfaceCelsius)
    {
        var convection = StillAirHeightMetres is { } height
            ? FreeConvection.UprightPlateWM2K(height, surfaceCelsius, AirCelsius)
            : ConvectionWM2K;
        return (convection * (AirCelsius - surfaceCelsius)) + Radiation.FluxWM2(Emissivity, WallCelsius, surfaceCelsius);
    }

    /// <summary>Temperature in °C that a small body comes to in the end; between air and walls.</summary>
    public double SteadyCelsius()
    {
        var (low, high) = (Math.Min(AirCelsius, WallCelsius), Math.Max(AirCelsius, WallCelsius));
        return low.Equals(high) ? low : Roots.Bisect(FluxIntoWM2, low, high);
    }

    internal Entered Check(Entered entered) =>
        entered
            .Between(AirCelsius, -50, 1000, "The air temperature", "°C")
            .Between(WallCelsius, -50, 1000, "The wall temperature", "°C")
            .Positive(ConvectionWM2K, 10_000, "The convection coefficient", "W/(m²·K)")
            .Between(Emissivity, 0, 1, "The emissivity")
            .Positive(StillAirHeightMetres ?? 1, 10, "The height", "m", nameof(StillAirHeightMetres));

    internal IReadOnlyList<ExplainedInput> Inputs =>
        [
            ExplainedInput.Of("air", AirCelsius, "°C"),
            ExplainedInput.Of("walls", WallCelsius, "°C"),
            StillAirHeightMetres is { } height
                ? ExplainedInput.Of("still air, height", height * 1000, "mm")
                : ExplainedInput.Of("convection", ConvectionWM2K, "W/(m²·K)"),
            ExplainedInput.Of("emissivity", Emissivity),
        ];
}
