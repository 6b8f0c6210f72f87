using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Film;

/// <summary>First weighing: everything sprayed is caught in a tared tin, then baked dry, so nothing is lost but solvent and propellant.</summary>
/// <param name="CanBeforeGrams">Can before, above 0 to 2000 g.</param>
/// <param name="CanAfterGrams">Can after, lighter than before.</param>
/// <param name="TinEmptyGrams">Empty tin, 0 to 2000 g.</param>
/// <param name="TinBakedGrams">Tin with the baked residue, at least as heavy as empty.</param>
/// <param name="ContentDensityGMl">Density of the whole can content, 0.4 to 2 g/ml: net weight over net volume on the label.</param>
/// <param name="FilmDensityGMl">Density of the dry film, 0.8 to 4 g/ml: from the data sheet; clear acrylic about 1.2, white about 1.6.</param>
public sealed record CatchWeighing(
    double CanBeforeGrams,
    double CanAfterGrams,
    double TinEmptyGrams,
    double TinBakedGrams,
    double ContentDensityGMl,
    double FilmDensityGMl
);

/// <summary>Second weighing: one coat on a flat panel, weighed before and after it is baked dry.</summary>
/// <param name="CanBeforeGrams">Can before, above 0 to 2000 g.</param>
/// <param name="CanAfterGrams">Can after, lighter than before.</param>
/// <param name="PanelBareGrams">Bare panel, above 0 to 20 000 g.</param>
/// <param name="PanelBakedGrams">Panel with the baked coat, heavier than bare.</param>
/// <param name="PanelWidthMm">Panel width, above 0 to 3000 mm.</param>
/// <param name="PanelHeightMm">Panel height, above 0 to 3000 mm.</param>
/// <param name="OverspraySideMm">How far the fan went past each edge, 0 to 300 mm.</param>
/// <param name="Coats">Coats sprayed, 1 to 20.</param>
public sealed record PanelWeighing(
    double CanBeforeGrams,
    double CanAfterGrams,
    double PanelBareGrams,
    double PanelBakedGrams,
    double PanelWidthMm,
    double PanelHeightMm,
    double OverspraySideMm,
    int Coats
);

/// <summary>What the two weighings tell.</summary>
/// <param name="VolumeSolidsPercent">Solids by volume of the can content in percent.</param>
/// <param name="TransferEfficiencyPercent">Share of the spray over the panel that stayed on it, in percent.</param>
/// <param name="DryFilmMicrometres">Dry film of one coat in µm.</param>
public readonly record struct CalibratedFilm(double VolumeSolidsPercent, double TransferEfficiencyPercent, double DryFilmMicrometres)
{
    /// <summary>The settings with the measured numbers in place of the old ones.</summary>
    public FilmSettings ApplyTo(FilmSettings settings) =>
        settings with
        {
            VolumeSolidsPercent = VolumeSolidsPercent,
            TransferEfficiencyPercent = TransferEfficiencyPercent,
            DryFilmMicrometres = DryFilmMicrometres,
        };
}

/// <summary>Sets the workshop's own solids, transfer efficiency and film by weighing on a kitchen scale that reads 0.01 g.</summary>
public static class FilmCalibration
{
    /// <summary>Solids, transfer efficiency and film from the two weighings.</summary>
    public static Result<Explained<CalibratedFilm>> From(CatchWeighing caught, PanelWeighing panel) =>
        CheckPanel(CheckCatch(new Entered(), caught), panel)
            .Then(() =>
            {
                var solidsByMass = (caught.TinBakedGrams - caught.TinEmptyGrams) / (caught.CanBeforeGrams - caught.CanAfterGrams);
                var volumeSolids = solidsByMass * caught.ContentDensityGMl / caught.FilmDensityGMl * 100;
                var face = new SprayedRectangle(0, 0, panel.PanelWidthMm, panel.PanelHeightMm);
                var shareOverPanel = face.AreaSquareMm / face.GrownBy(panel.OverspraySideMm).AreaSquareMm;
                var dryGrams = panel.PanelBakedGrams - panel.PanelBareGrams;
                var solidsOverPanel = (panel.CanBeforeGrams - panel.CanAfterGrams) * solidsByMass * shareOverPanel;
                var efficiency = dryGrams / solidsOverPanel * 100;
                // g / (g/ml) is cm³; cm³ over mm² is 1000 mm, that is 1 000 000 µm.
                var film = dryGrams / caught.FilmDensityGMl / face.AreaSquareMm * 1e6 / panel.Coats;
                return new Entered()
                    .Positive(volumeSolids, 100, "The volume solids that follow", "%", nameof(caught.TinBakedGrams))
                    .Positive(efficiency, 100, "The transfer efficiency that follows", "%", nameof(panel.PanelBakedGrams))
                    .Then<Explained<CalibratedFilm>>(() => Answer(caught, panel, new CalibratedFilm(volumeSolids, efficiency, film)));
            });

    private static Explained<CalibratedFilm> Answer(CatchWeighing caught, PanelWeighing panel, CalibratedFilm found) =>
        Explain.As(
            found,
            $"solids {found.VolumeSolidsPercent:0.0} %, transfer {found.TransferEfficiencyPercent:0} %, film {found.DryFilmMicrometres:0.0} µm a coat",
            [
                ExplainedInput.Of("caught from the can", caught.CanBeforeGrams - caught.CanAfterGrams, "g"),
                ExplainedInput.Of("baked residue", caught.TinBakedGrams - caught.TinEmptyGrams, "g"),
                ExplainedInput.Of("sprayed on the panel", panel.CanBeforeGrams - panel.CanAfterGrams, "g"),
                ExplainedInput.Of("baked coat", panel.PanelBakedGrams - panel.PanelBareGrams, "g"),
                ExplainedInput.Of("coats", panel.Coats),
            ],
            "solids by mass = residue ÷ caught; by volume · content density ÷ film density; "
                + "transfer = baked coat ÷ (sprayed · solids by mass · panel's share of the swept area); film = baked coat ÷ (film density · area · coats)",
            "conservation of mass; non-volatile matter after ISO 3251, volume solids after ISO 3233, both from memory"
        );

    private static Entered CheckCatch(Entered entered, CatchWeighing w) =>
        entered
            .Positive(w.CanBeforeGrams, 2000, "The can before", "g")
            .Between(w.CanAfterGrams, 0, 2000, "The can after", "g")
            .That(w.CanAfterGrams < w.CanBeforeGrams, "can-not-lighter", "The can must be lighter after spraying.", nameof(w.CanAfterGrams))
            .Between(w.TinEmptyGrams, 0, 2000, "The empty tin", "g")
            .Between(w.TinBakedGrams, 0, 4000, "The baked tin", "g")
            .That(
                w.TinBakedGrams > w.TinEmptyGrams,
                "no-residue",
                "The baked tin must be heavier than the empty one.",
                nameof(w.TinBakedGrams)
            )
            .That(
                w.TinBakedGrams - w.TinEmptyGrams <= w.CanBeforeGrams - w.CanAfterGrams,
                "more-out-than-in",
                "More residue than the can lost: check the scale and the tin.",
                nameof(w.TinBakedGrams)
            )
            .Between(w.ContentDensityGMl, 0.4, 2, "The density of the content", "g/ml")
            .Between(w.FilmDensityGMl, 0.8, 4, "The density of the dry film", "g/ml");

    private static Entered CheckPanel(Entered entered, PanelWeighing w) =>
        entered
            .Positive(w.CanBeforeGrams, 2000, "The can before", "g")
            .Between(w.CanAfterGrams, 0, 2000, "The can after", "g")
            .That(w.CanAfterGrams < w.CanBeforeGrams, "can-not-lighter", "The can must be lighter after spraying.", nameof(w.CanAfterGrams))
            .Positive(w.PanelBareGrams, 20_000, "The bare panel", "g")
            .Positive(w.PanelBakedGrams, 21_000, "The baked panel", "g")
            .That(
                w.PanelBakedGrams > w.PanelBareGrams,
                "no-coat",
                "The baked panel must be heavier than the bare one.",
                nameof(w.PanelBakedGrams)
            )
            .Positive(w.PanelWidthMm, 3000, "The panel's width", "mm")
            .Positive(w.PanelHeightMm, 3000, "The panel's height", "mm")
            .Between(w.OverspraySideMm, 0, 300, "The overspray", "mm")
            .Between(w.Coats, 1, 20, "The number of coats");
}
