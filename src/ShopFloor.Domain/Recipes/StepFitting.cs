using ShopFloor.Domain.Film;
using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;

namespace ShopFloor.Domain.Recipes;

/// <summary>Fits one step after the other to a piece; remembers on the way how much solvent is still in its coats.</summary>
internal sealed class StepFitting(Recipe recipe, PieceDescription piece, FittingWorkshop shop)
{
    private double solventGrams;

    // Properties taken for a material nobody measured: those of the recipe's reference; it needs a test piece anyway.
    private ThermalProperties Thermal => shop.Material.Thermal ?? ReferenceThermal;

    private ThermalProperties ReferenceThermal => shop.Reference.Thermal ?? new ThermalProperties(2700, 160, 880);

    // What the heat sees of a piece: a plate, solid or as thick as the two walls of a hollow one, or a cylinder that is solid. What warms a cylinder
    // at its ends is left out, on the safe side.
    private HeatBody Body =>
        piece.Form == Form.Cylinder && piece.HeatedThickness == piece.Thickness
            ? HeatBody.SolidCylinder(Thermal, (double)piece.Thickness.Millimetres)
            : HeatBody.PlateBothFaces(Thermal, (double)piece.HeatedThickness.Millimetres);

    private double MassKilograms => CubicMillimetres * 1e-9 * Thermal.DensityKgM3;

    private double CubicMillimetres =>
        piece.Form == Form.Cylinder
            ? (double)piece.CylinderCubicMillimetres
            : (double)piece.AreaSquareMillimetres * (double)piece.HeatedThickness.Millimetres;

    internal Result<FittedStep> Fit(RecipeStep step) =>
        step.Kind switch
        {
            StepKind.Spray => Spray(step),
            StepKind.Wipe => Wipe(step),
            StepKind.Cure or StepKind.Dry => Bake(step),
            StepKind.Tape when piece.Form == Form.Cylinder => new FittedStep(step with { Note = ShippedSteps.TapeRound.Note }, null),
            StepKind.Press when piece.Form == Form.Cylinder => Wrap(step),
            StepKind.Press => Press(step),
            StepKind.Rest when step.CoolToCelsius is { } target => Cool(step, (double)target),
            StepKind.Rest => FlashOff(step),
            _ => new FittedStep(step, null),
        };

    private Result<FittedStep> Spray(RecipeStep step)
    {
        if (step.Coating is not { } kind || !shop.Coatings.TryGetValue(kind, out var coating))
            return new Refusal("coating-missing", $"The workshop has no {step.Coating} coating entered.");
        return CoatingUse
            .MillilitresPerPiece((double)piece.Width.Millimetres, (double)piece.BoxHeight.Millimetres, 1, coating.AsFilm())
            .Then(ml =>
            {
                // What misses the face is counted as if it lay there: edges and a thicker coat than meant have their share in it.
                solventGrams += ml.Value * (double)coating.SolventGramsPerMl;
                return Result<FittedStep>.Ok(new FittedStep(step with { Ml = Rounded(ml.Value) }, ml.Why));
            });
    }

    // The towel takes its share too; how much a square metre takes is the owner's own weighing.
    private FittedStep Wipe(RecipeStep step)
    {
        var rate = step.Coating is { } kind && shop.Coatings.TryGetValue(kind, out var coating) ? coating.WipedMlPerSquareMetre : 0;
        var squareMetres = (double)piece.Width.Millimetres * (double)piece.BoxHeight.Millimetres / 1e6;
        return new FittedStep(step with { Ml = Rounded((double)rate * squareMetres) }, null);
    }

    // Half of the solvent leaves in each half time; what counts is the shortest flash-off, for that is what may happen.
    private Result<FittedStep> FlashOff(RecipeStep step)
    {
        solventGrams *= Math.Pow(0.5, step.MinSeconds / 60.0 / FreshLoad.DefaultHalfMinutes);
        return new FittedStep(step, null);
    }

    private Result<FittedStep> Bake(RecipeStep step)
    {
        var vapour = Rounded(solventGrams);
        solventGrams = 0;
        var celsius = (double)(step.Celsius ?? 160);
        var reference = HeatBody.PlateBothFaces(ReferenceThermal, (double)recipe.ReferenceThickness.Millimetres);
        var asked = new CureRecipe(celsius, step.MinSeconds / 60.0, (step.MaxSeconds ?? step.MinSeconds) / 60.0, reference);
        return OvenDwell
            .WindowFor(Body, asked, [.. shop.Ovens.Select(o => o with { RoomCelsius = shop.RoomCelsius })])
            .Then(window =>
            {
                var (min, max) = window.Value.InWholeSeconds();
                var heat = Rounded(MassKilograms * Thermal.SpecificHeatJKgK * (celsius - shop.RoomCelsius) / 1000);
                var fitted = step with { MinSeconds = min, MaxSeconds = max, HeatKilojoules = heat, VapourGrams = vapour };
                return Result<FittedStep>.Ok(new FittedStep(fitted, window.Why));
            });
    }

    // The recipe's time is what the owner found with the reference piece; another piece gets as much more as its coat takes longer to get
    // hot, and never less. It may go under any of the presses: it is pressed long enough for the one in which that takes longest, and no longer than
    // suits the quickest. A press for which no time can be told is passed over, unless that goes for all.
    private Result<FittedStep> Press(RecipeStep step)
    {
        var side = step.LayUp?.Contains("below", StringComparison.OrdinalIgnoreCase) == true ? HeatedSide.Piece : HeatedSide.Print;
        var celsius = (double)(step.Celsius ?? 190);
        List<Result<FittedStep>> tried =
        [
            .. shop
                .Presses.DefaultIfEmpty(PlatenSettings.Default)
                .Select(p => Press(step, side, p with { SetCelsius = celsius, RoomCelsius = shop.RoomCelsius })),
        ];
        List<FittedStep> fitted = [.. tried.Where(f => f.IsOk).Select(f => f.Value)];
        return fitted.Count == 0 ? tried[0] : ForAll(fitted);
    }

    private static FittedStep ForAll(List<FittedStep> presses)
    {
        var longest = presses.MaxBy(p => p.Step.MinSeconds)!;
        int? most = presses.Min(p => p.Step.MaxSeconds) is { } least ? Math.Max(least, longest.Step.MinSeconds) : null;
        return longest with { Step = longest.Step with { MaxSeconds = most } };
    }

    private Result<FittedStep> Press(RecipeStep step, HeatedSide side, PlatenSettings platen) =>
        PressDwell
            .For(ReferenceThermal, (double)recipe.ReferenceThickness.Millimetres, side, platen)
            .Then(reference =>
                PressDwell
                    .For(Thermal, (double)piece.PressedThickness.Millimetres, side, platen)
                    .Then(own => Result<FittedStep>.Ok(Longer(step, reference.Value, own)))
            );

    // The recipe's time was found under a platen; round a mantle the owner of the wrap press found another.
    private FittedStep Wrap(RecipeStep step)
    {
        var fit = shop.Wrap ?? WrapFit.Usual;
        return new FittedStep(step with { MinSeconds = fit.LeastSeconds, MaxSeconds = fit.MostSeconds, LayUp = WrapFit.LayUp }, null);
    }

    private FittedStep Longer(RecipeStep step, PressTime reference, Explained<PressTime> own)
    {
        var extra = (int)Math.Max(0, Math.Round(own.Value.HeatUpSeconds - reference.HeatUpSeconds));
        var min = step.MinSeconds + extra;
        var why = own.Why with
        {
            Answer = $"at least {Durations.InWords(min)}",
            Inputs =
            [
                ExplainedInput.Of("recipe, shortest", step.MinSeconds, "s"),
                ExplainedInput.Of("coat of the reference piece hot after", reference.HeatUpSeconds, "s"),
                .. own.Why.Inputs,
            ],
            Formula =
                "the recipe's time for its reference piece + the time by which this coat gets hot later, never less than the recipe; "
                + own.Why.Formula,
            IsEstimate = extra > 0,
            Notes = extra > 0 ? own.Why.Notes : [],
        };
        return new FittedStep(step with { MinSeconds = min, MaxSeconds = step.MaxSeconds + extra, IsEstimate = extra > 0 }, why);
    }

    private Result<FittedStep> Cool(RecipeStep step, double target)
    {
        var from = (double)(recipe.Steps.LastOrDefault(s => s.Number < step.Number && s.Kind.HasWindow())?.Celsius ?? 110);
        if (from <= target)
            return new FittedStep(step, null);
        if (target <= shop.RoomCelsius)
            return RoomTooWarm(step, target);
        var height = Math.Clamp((double)piece.BoxHeight.Millimetres, 1, 9999);
        return Cooling
            .TimeTo(Body, from, target, shop.RoomCelsius, height)
            .Then(time =>
            {
                var seconds = Math.Max(step.MinSeconds, (int)Math.Ceiling(time.Value.Seconds));
                return Result<FittedStep>.Ok(Rested(step, seconds, time.Why));
            });
    }

    // What cools longer than the recipe's longest time may rest as much longer.
    private static FittedStep Rested(RecipeStep step, int seconds, Explanation why)
    {
        if (step.MaxSeconds is not { } max || seconds <= max)
            return new FittedStep(step with { MinSeconds = seconds }, why);
        var longest = max + seconds - step.MinSeconds;
        var note =
            $"The recipe lets it rest for at most {Durations.InWords(max)}, but it has not cooled down by then: at most {Durations.InWords(longest)} here.";
        return new FittedStep(step with { MinSeconds = seconds, MaxSeconds = longest }, why with { Notes = [.. why.Notes, note] });
    }

    private Refusal RoomTooWarm(RecipeStep step, double target) =>
        new(
            "room-too-warm",
            string.Create(
                CultureInfo.InvariantCulture,
                $"Step {step.Number} waits until the piece has {target:0.#} °C, but the room is set to {shop.RoomCelsius:0.#} °C: nothing gets colder than its room."
            ),
            "finish"
        );

    private static decimal Rounded(double value) => Math.Round((decimal)value, 3, MidpointRounding.AwayFromZero);
}
