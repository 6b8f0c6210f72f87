namespace ShopFloor.Domain.Heat;

/// <summary>How a material stores and leads heat.</summary>
/// <param name="DensityKgM3">Density in kg/m³, above 0.</param>
/// <param name="ConductivityWMK">Thermal conductivity in W/(m·K), above 0.</param>
/// <param name="SpecificHeatJKgK">Specific heat capacity in J/(kg·K), above 0.</param>
public sealed record ThermalProperties(double DensityKgM3, double ConductivityWMK, double SpecificHeatJKgK)
{
    /// <summary>Thermal diffusivity k/(ρ·c) in m²/s.</summary>
    public double DiffusivityM2S => ConductivityWMK / VolumetricHeatJM3K;

    /// <summary>Heat that one cubic metre takes per kelvin, ρ·c, in J/(m³·K).</summary>
    public double VolumetricHeatJM3K => DensityKgM3 * SpecificHeatJKgK;

    /// <summary>Thermal effusivity √(k·ρ·c) in W·√s/(m²·K): how cold or hot the material feels.</summary>
    public double EffusivityWS05M2K => Math.Sqrt(ConductivityWMK * VolumetricHeatJM3K);
}
