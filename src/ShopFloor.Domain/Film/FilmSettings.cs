using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Film;

/// <summary>How one coating is sprayed in this workshop: the owner's own numbers, best set by weighing (<see cref="FilmCalibration"/>).</summary>
/// <param name="DryFilmMicrometres">Dry film of one coat in µm, above 0 to 500.</param>
/// <param name="VolumeSolidsPercent">Solids by volume of the whole can content, propellant included, above 0 to 100 percent.</param>
/// <param name="TransferEfficiencyPercent">Share of the spray that stays on a large panel, above 0 to 100 percent.</param>
/// <param name="OverspraySideMm">How far the fan is moved past the edge on each side, 0 to 300 mm.</param>
/// <param name="CanMillilitres">Content of a full can, above 0 to 5000 ml.</param>
public sealed record FilmSettings(
    double DryFilmMicrometres,
    double VolumeSolidsPercent,
    double TransferEfficiencyPercent,
    double OverspraySideMm,
    double CanMillilitres
)
{
    /// <summary>
    /// What a workshop starts with until it has weighed: 12 µm a coat, 10 % solids, 50 % transfer, 30 mm overspray, 400 ml (common
    /// practice, no source).
    /// </summary>
    public static FilmSettings Default { get; } = new(12, 10, 50, 30, 400);

    /// <summary>Millilitres out of the can for each square millimetre of sprayed area and coat.</summary>
    public double MillilitresPerSquareMm =>
        // 1 m²/l is 1000 mm² per ml.
        1 / (SpreadingRate.SquareMetresPerLitre(VolumeSolidsPercent, DryFilmMicrometres) * 1000 * (TransferEfficiencyPercent / 100));

    /// <summary>These settings when every number is possible, else what is wrong with which.</summary>
    public Result<FilmSettings> Checked() => Check(new Entered()).Then<FilmSettings>(() => this);

    internal Entered Check(Entered entered) =>
        entered
            .Positive(DryFilmMicrometres, 500, "The dry film", "µm")
            .Positive(VolumeSolidsPercent, 100, "The volume solids", "%")
            .Positive(TransferEfficiencyPercent, 100, "The transfer efficiency", "%")
            .Between(OverspraySideMm, 0, 300, "The overspray", "mm")
            .Positive(CanMillilitres, 5000, "The can's content", "ml");

    internal IReadOnlyList<ExplainedInput> Inputs =>
        [
            ExplainedInput.Of("dry film per coat", DryFilmMicrometres, "µm"),
            ExplainedInput.Of("volume solids", VolumeSolidsPercent, "%"),
            ExplainedInput.Of("transfer efficiency", TransferEfficiencyPercent, "%"),
            ExplainedInput.Of("overspray each side", OverspraySideMm, "mm"),
        ];
}
