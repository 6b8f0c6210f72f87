using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Domain.Recipes;

/// <summary>What the fitting of a recipe to a piece needs to know of the workshop.</summary>
/// <param name="Material">Sheet of the piece's material.</param>
/// <param name="Reference">Sheet of the material the recipe's windows were found with.</param>
/// <param name="Ovens">The heat of the ovens that the piece may go into, at least one.</param>
/// <param name="RoomCelsius">Room, °C.</param>
/// <param name="Coatings">What is known of each kind of coating.</param>
public sealed record FittingWorkshop(
    MaterialSheet Material,
    MaterialSheet Reference,
    IReadOnlyList<Heat.OvenSettings> Ovens,
    double RoomCelsius,
    IReadOnlyDictionary<CoatingKind, CoatingSettings> Coatings
)
{
    /// <summary>How its flat presses are built, those that the piece may go under; none: as presses usually are.</summary>
    public IReadOnlyList<Heat.PlatenSettings> Presses { get; init; } = [];

    /// <summary>What its wrap press takes; null: it has none.</summary>
    public WrapFit? Wrap { get; init; }
}

/// <summary>A step fitted to a piece, with how its numbers come about; null where nothing is computed.</summary>
public sealed record FittedStep(RecipeStep Step, Explanation? Why);

/// <summary>Copies a recipe's steps for one piece, with the windows, amounts and rests of that piece.</summary>
public static class FittedRecipe
{
    /// <summary>Drying of damp stone before anything else: 60 min at 110 °C (common practice, no source).</summary>
    public static RecipeStep Drying { get; } =
        new(1, StepKind.Dry)
        {
            Celsius = 110,
            MinSeconds = 3600,
            MaxSeconds = 7200,
            Note = "Drive the moisture out, or it blisters the coat.",
        };

    /// <summary>The steps fitted to the piece.</summary>
    /// <returns>The steps, numbered from 1, or what is impossible about the numbers.</returns>
    public static Result<IReadOnlyList<RecipeStep>> For(Recipe recipe, PieceDescription piece, FittingWorkshop shop) =>
        Explained(recipe, piece, shop).Then(steps => Result<IReadOnlyList<RecipeStep>>.Ok([.. steps.Select(s => s.Step)]));

    /// <summary>The steps fitted to the piece, each with how its numbers come about.</summary>
    /// <returns>The steps, numbered from 1, or what is impossible about the numbers.</returns>
    public static Result<IReadOnlyList<FittedStep>> Explained(Recipe recipe, PieceDescription piece, FittingWorkshop shop)
    {
        var fitting = new StepFitting(recipe, piece, shop);
        var steps = new List<FittedStep>();
        var faults = new List<Refusal>();
        foreach (var step in StepsFor(recipe, shop.Material))
        {
            var fitted = fitting.Fit(step);
            if (fitted.IsOk)
                steps.Add(fitted.Value with { Step = fitted.Value.Step with { Number = steps.Count + 1 } });
            else
                faults.AddRange(fitted.Refusals);
        }
        // What no recipe may be, no piece's steps may become.
        if (faults.Count == 0)
            faults.AddRange(RecipeRules.FaultsOfWork([.. steps.Select(s => s.Step)]));
        return faults.Count > 0 ? Result<IReadOnlyList<FittedStep>>.Refused(faults) : steps;
    }

    /// <summary>The recipe's steps with those that the material needs besides; the heat of each is the one that the piece meets.</summary>
    public static IReadOnlyList<RecipeStep> StepsFor(Recipe recipe, MaterialSheet material)
    {
        var steps = recipe.Steps;
        if (!Moisture.IsBakedOut(material) || steps.Any(s => s.Kind == StepKind.Dry))
            return steps;
        // A recipe that does not clean dries before anything else: then there is nothing before it, and -1 is the place of that.
        var clean = steps.ToList().FindIndex(s => s.Kind is StepKind.Clean);
        var next = clean + 1 < steps.Count && steps[clean + 1].Kind.IsRest() ? steps[clean + 1] : null;
        return [.. steps.Take(clean + 1), Drying, next is null ? CoolDown : Both(next), .. steps.Skip(clean + (next is null ? 1 : 2))];
    }

    // It comes out hot: wait until it can be touched before promoter goes on.
    private static readonly RecipeStep CoolDown = new(1, StepKind.Rest) { MinSeconds = 300, CoolToCelsius = 35m };

    /// <summary>A rest of the recipe after cleaning becomes the one after drying: two in a row are one.</summary>
    private static RecipeStep Both(RecipeStep rest)
    {
        var min = Math.Max(rest.MinSeconds, CoolDown.MinSeconds);
        return rest with
        {
            Number = CoolDown.Number,
            MinSeconds = min,
            MaxSeconds = rest.MaxSeconds is { } max && max < min ? max + min - rest.MinSeconds : rest.MaxSeconds,
            CoolToCelsius = Math.Min(rest.CoolToCelsius ?? 35m, 35m),
        };
    }
}
