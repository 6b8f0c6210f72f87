using ShopFloor.Domain.Film;
using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Domain.Recipes;

/// <summary>What the fitting of a recipe to a piece needs to know of the workshop.</summary>
/// <param name="Material">Sheet of the piece's material.</param>
/// <param name="Reference">Sheet of the material the recipe's windows were found with.</param>
/// <param name="Oven">The oven's heat.</param>
/// <param name="RoomCelsius">Room, °C.</param>
/// <param name="Coatings">What is known of each kind of coating.</param>
public sealed record FittingWorkshop(
    MaterialSheet Material,
    MaterialSheet Reference,
    OvenSettings Oven,
    double RoomCelsius,
    IReadOnlyDictionary<CoatingKind, CoatingSettings> Coatings
);

/// <summary>Copies a recipe's steps for one piece, with the windows, amounts and rests of that piece.</summary>
public static class FittedRecipe
{
    /// <summary>Drying of damp stone and wood before anything else: 60 min at 110 °C (common practice, no source).</summary>
    public static RecipeStep Drying { get; } =
        new(1, StepKind.Dry)
        {
            Celsius = 110,
            MinSeconds = 3600,
            MaxSeconds = 7200,
            Note = "Drive the moisture out, or it blisters the coat.",
        };

    /// <summary>Solvent that is still in the coat after flash-off, share of what was sprayed (common practice, no source).</summary>
    public const decimal SolventLeftAfterFlash = 0.1m;

    /// <summary>Properties taken for a material nobody measured: those of the recipe's reference, marked by the test piece it needs anyway.</summary>
    private static ThermalProperties Thermal(FittingWorkshop shop) =>
        shop.Material.Thermal ?? shop.Reference.Thermal ?? new ThermalProperties(2700, 160, 880);

    /// <summary>The steps fitted to the piece.</summary>
    /// <returns>The steps, numbered from 1, or what is impossible about the numbers.</returns>
    public static Result<IReadOnlyList<RecipeStep>> For(Recipe recipe, PieceDescription piece, FittingWorkshop shop)
    {
        var steps = new List<RecipeStep>();
        var faults = new List<Refusal>();
        var solvent = 0m;
        foreach (var step in WithDrying(recipe.Steps, shop.Material.DryFirst))
        {
            var fitted = Fit(step, recipe, piece, shop, ref solvent);
            if (fitted.IsOk)
                steps.Add(fitted.Value with { Number = steps.Count + 1 });
            else
                faults.AddRange(fitted.Refusals);
        }
        return faults.Count > 0 ? Result<IReadOnlyList<RecipeStep>>.Refused(faults) : steps;
    }

    private static IEnumerable<RecipeStep> WithDrying(IReadOnlyList<RecipeStep> steps, bool dryFirst)
    {
        var added = !dryFirst || steps.Any(s => s.Kind == StepKind.Dry);
        foreach (var step in steps)
        {
            yield return step;
            if (!added && step.Kind is StepKind.Clean)
            {
                yield return Drying;
                // It comes out hot: wait until it can be touched before promoter goes on.
                yield return new RecipeStep(1, StepKind.Rest) { MinSeconds = 300, CoolToCelsius = 35m };
                added = true;
            }
        }
    }

    private static Result<RecipeStep> Fit(RecipeStep step, Recipe recipe, PieceDescription piece, FittingWorkshop shop, ref decimal solvent)
    {
        switch (step.Kind)
        {
            case StepKind.Spray:
                var sprayed = Spray(step, piece, shop);
                if (sprayed.IsOk && step.Coating is { } kind)
                    solvent += sprayed.Value.Ml * (shop.Coatings.GetValueOrDefault(kind)?.SolventGramsPerMl ?? 0);
                return sprayed;
            case StepKind.Cure or StepKind.Dry:
                var vapour = Math.Round(solvent * SolventLeftAfterFlash, 3, MidpointRounding.AwayFromZero);
                solvent = 0;
                return Bake(step, recipe, piece, shop).Then(s => Result<RecipeStep>.Ok(s with { VapourGrams = vapour }));
            case StepKind.Rest when step.CoolToCelsius is { } target:
                return Cool(step, (double)target, HotBefore(recipe, step), piece, shop);
            default:
                return step;
        }
    }

    private static double HotBefore(Recipe recipe, RecipeStep rest) =>
        (double)(recipe.Steps.LastOrDefault(s => s.Number < rest.Number && s.Kind.HasWindow())?.Celsius ?? Drying.Celsius ?? 110);

    private static Result<RecipeStep> Spray(RecipeStep step, PieceDescription piece, FittingWorkshop shop)
    {
        if (step.Coating is not { } kind || !shop.Coatings.TryGetValue(kind, out var coating))
            return new Refusal("coating-missing", $"The workshop has no {step.Coating} coating entered.");
        var film = new FilmSettings(
            (double)coating.DryFilmMicrometres,
            (double)coating.VolumeSolidsPercent,
            (double)coating.TransferEfficiency * 100,
            (double)coating.OversprayMarginMillimetres,
            (double)coating.CanMl
        );
        return CoatingUse
            .MillilitresPerPiece((double)piece.Width.Millimetres, (double)piece.BoxHeight.Millimetres, 1, film)
            .Then(ml => Result<RecipeStep>.Ok(step with { Ml = Math.Round((decimal)ml.Value, 3, MidpointRounding.AwayFromZero) }));
    }

    private static Result<RecipeStep> Bake(RecipeStep step, Recipe recipe, PieceDescription piece, FittingWorkshop shop)
    {
        var body = Body(piece, shop);
        var celsius = (double)(step.Celsius ?? 160);
        var reference = HeatBody.PlateBothFaces(shop.Reference.Thermal ?? Thermal(shop), (double)recipe.ReferenceThickness.Millimetres);
        var asked = new CureRecipe(celsius, step.MinSeconds / 60.0, (step.MaxSeconds ?? step.MinSeconds) / 60.0, reference);
        return OvenDwell
            .WindowFor(body, asked, shop.Oven with { RoomCelsius = shop.RoomCelsius })
            .Then(window =>
            {
                var (min, max) = window.Value.InWholeSeconds();
                var kilojoules = MassKilograms(piece, shop) * Thermal(shop).SpecificHeatJKgK * (celsius - shop.RoomCelsius) / 1000;
                var heat = Math.Round((decimal)kilojoules, 3, MidpointRounding.AwayFromZero);
                return Result<RecipeStep>.Ok(step with { MinSeconds = min, MaxSeconds = max, HeatKilojoules = heat });
            });
    }

    private static Result<RecipeStep> Cool(RecipeStep step, double target, double from, PieceDescription piece, FittingWorkshop shop)
    {
        if (from <= target)
            return step;
        var air = Surroundings.StillAir(shop.RoomCelsius, Math.Clamp((double)piece.BoxHeight.Millimetres, 1, 9999));
        return HeatUp
            .TimeTo(Body(piece, shop), air, from, target)
            .Then(time =>
                Result<RecipeStep>.Ok(step with { MinSeconds = Math.Max(step.MinSeconds, (int)Math.Ceiling(time.Value.Seconds)) })
            );
    }

    /// <summary>What the heat sees of a piece: a cylinder is its wall rolled up, so it is a plate too.</summary>
    private static HeatBody Body(PieceDescription piece, FittingWorkshop shop) =>
        HeatBody.PlateBothFaces(Thermal(shop), (double)piece.Thickness.Millimetres);

    private static double MassKilograms(PieceDescription piece, FittingWorkshop shop) =>
        (double)piece.AreaSquareMillimetres * (double)piece.Thickness.Millimetres * 1e-9 * Thermal(shop).DensityKgM3;
}
