using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Heat;

/// <summary>The simple body that a piece is likened to.</summary>
public enum HeatShape
{
    /// <summary>A plate that takes heat through both faces, or through one with the other insulated.</summary>
    Plate,

    /// <summary>A long solid cylinder.</summary>
    Cylinder,

    /// <summary>A ball, or anything about as long as wide as high.</summary>
    Sphere,
}

/// <summary>A piece as the heat sees it.</summary>
/// <param name="Material">What it is made of.</param>
/// <param name="Shape">What it is likened to.</param>
/// <param name="DepthMetres">
/// Way from the surface to the coldest place, in m: half the thickness of a plate heated from both faces, the whole thickness when only one
/// face is heated, the radius of a cylinder or sphere.
/// </param>
public sealed record HeatBody(ThermalProperties Material, HeatShape Shape, double DepthMetres)
{
    /// <summary>Volume over heated surface in m: the depth for a plate, half of it for a cylinder, a third for a sphere.</summary>
    public double CharacteristicMetres =>
        Shape switch
        {
            HeatShape.Plate => DepthMetres,
            HeatShape.Cylinder => DepthMetres / 2,
            HeatShape.Sphere => DepthMetres / 3,
            _ => throw new InvalidOperationException($"No such shape: {Shape}."),
        };

    /// <summary>Heat per kelvin and square metre of heated surface, in J/(m²·K).</summary>
    public double HeatPerSquareMetreJK => Material.VolumetricHeatJM3K * CharacteristicMetres;

    /// <summary>Biot number h·Lc/k: under 0.1 the inside keeps up with the surface.</summary>
    /// <param name="coefficientWM2K">Surface coefficient in W/(m²·K), radiation included.</param>
    public double Biot(double coefficientWM2K) => coefficientWM2K * CharacteristicMetres / Material.ConductivityWMK;

    /// <summary>A plate that stands free in the oven, warmed through both faces.</summary>
    /// <param name="material">Its properties.</param>
    /// <param name="thicknessMm">Thickness in mm.</param>
    public static HeatBody PlateBothFaces(ThermalProperties material, double thicknessMm) =>
        new(material, HeatShape.Plate, thicknessMm / 2000);

    /// <summary>A plate that lies on something that lets no heat through.</summary>
    /// <param name="material">Its properties.</param>
    /// <param name="thicknessMm">Thickness in mm.</param>
    public static HeatBody PlateOneFace(ThermalProperties material, double thicknessMm) =>
        new(material, HeatShape.Plate, thicknessMm / 1000);

    /// <summary>A solid cylinder.</summary>
    /// <param name="material">Its properties.</param>
    /// <param name="diameterMm">Diameter in mm.</param>
    public static HeatBody SolidCylinder(ThermalProperties material, double diameterMm) =>
        new(material, HeatShape.Cylinder, diameterMm / 2000);

    /// <summary>A ball.</summary>
    /// <param name="material">Its properties.</param>
    /// <param name="diameterMm">Diameter in mm.</param>
    public static HeatBody Ball(ThermalProperties material, double diameterMm) => new(material, HeatShape.Sphere, diameterMm / 2000);

    internal Entered Check(Entered entered) =>
        entered
            .Positive(DepthMetres * 1000, 500, "The thickness (half of it, or the radius)", "mm", nameof(DepthMetres))
            .Positive(Material.DensityKgM3, 25_000, "The density", "kg/m³")
            .Positive(Material.ConductivityWMK, 3000, "The conductivity", "W/(m·K)")
            .Positive(Material.SpecificHeatJKgK, 10_000, "The heat capacity", "J/(kg·K)");

    internal IReadOnlyList<ExplainedInput> Inputs =>
        [
            ExplainedInput.Word(
                "shape",
                Shape switch
                {
                    HeatShape.Plate => "plate",
                    HeatShape.Cylinder => "cylinder",
                    _ => "ball",
                }
            ),
            ExplainedInput.Of("surface to coldest place", DepthMetres * 1000, "mm"),
            ExplainedInput.Of("density", Material.DensityKgM3, "kg/m³"),
            ExplainedInput.Of("conductivity", Material.ConductivityWMK, "W/(m·K)"),
            ExplainedInput.Of("heat capacity", Material.SpecificHeatJKgK, "J/(kg·K)"),
        ];
}
