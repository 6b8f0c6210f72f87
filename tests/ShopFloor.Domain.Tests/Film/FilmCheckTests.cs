using ShopFloor.Domain.Film;

namespace ShopFloor.Domain.Tests.Film;

/// <summary>Published coverage figures and vapour figures; the source stands in each row.</summary>
public sealed class FilmCheckTests
{
    // One mil is 25.4 µm; one m²/l is 40.7458 ft² per US gallon.
    private const double MicrometresPerMil = 25.4;
    private const double SquareFeetPerGallon = 3.785411784 / 0.09290304;

    public static TheoryData<string> CoverageRows => CheckValues.Ids("coverage");

    public static TheoryData<string> SolventRows => CheckValues.Ids("solvents");

    [Theory]
    [MemberData(nameof(CoverageRows))]
    public void Coverage_PublishedValue_Agrees(string id)
    {
        var row = CheckValues.Row("coverage", id);
        row.Check(
            row.Quantity switch
            {
                "rate" => SpreadingRate.SquareMetresPerLitre(row["vs"], row["dft"]),
                "rate_us" => SpreadingRate.SquareMetresPerLitre(row["vs"], row["mil"] * MicrometresPerMil) * SquareFeetPerGallon,
                "wet" => SpreadingRate.WetFilmMicrometres(row["dft"], row["vs"]),
                "practical" => SpreadingRate.Practical(SpreadingRate.SquareMetresPerLitre(row["vs"], row["dft"]), row["loss"]),
                "area_per_can" => row["can"] / (Settings(row).MillilitresPerSquareMm * 1e6),
                "cans" => row["pieces"] * row["m2"] * 1e6 * Settings(row).MillilitresPerSquareMm / row["can"],
                _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
            }
        );
    }

    [Theory]
    [MemberData(nameof(SolventRows))]
    public void Vapour_PublishedValue_Agrees(string id)
    {
        // A cubic foot per US gallon is 7.4805 litres of vapour per litre of liquid.
        const double CubicFeetPerGallon = 28.316846592 / 3.785411784;
        var row = CheckValues.Row("solvents", id);
        row.Check(
            row.Quantity switch
            {
                "vapour_per_litre" => SolventVapour.VapourLitres(1000 * row["rho"], row["m"], row["T"]) / CubicFeetPerGallon,
                "dilution" => SolventVapour.DilutionAirCubicMetres(row["v"], row["lel"]),
                "unknown_mix" => SolventVapour.AllowedGrams(Solvent.UnknownMix, row["litres"], 160),
                "fresh_air_mix" => SolventVapour.AllowedGrams(Solvent.UnknownMix, row["litres"], 160, row["air"]),
                "hot_factor" => SolventVapour.HotLimitFactor(row["T"]),
                "vapour_percent" => SolventVapour.VapourLitres(row["ml"] * row["rho"], row["m"], row["T"]) / row["litres"] * 100,
                "allowed_ml" => SolventVapour.AllowedGrams(Named(row), row["litres"], row["T"]) / row["rho"],
                "allowed_g_m3" => SolventVapour.AllowedGrams(Named(row), 1000, row["T"]),
                _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
            }
        );
    }

    private static FilmSettings Settings(CheckRow row) => new(row["dft"], row["vs"], row["te"], 0, row["can"]);

    private static Solvent Named(CheckRow row) => new("any", row["m"], row["lel"], row.Or("rho", 1), row.Source);
}
