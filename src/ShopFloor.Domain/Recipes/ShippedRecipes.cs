using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Recipes;

/// <summary>A recipe that a new workshop starts with.</summary>
/// <param name="Name">What people call it.</param>
/// <param name="Finish">The finish it makes.</param>
/// <param name="MaterialGroup">Class of material, or empty.</param>
/// <param name="ReferenceMaterial">Key of the material its windows are for.</param>
/// <param name="ReferenceThickness">Thickness its windows are for.</param>
/// <param name="Steps">The steps.</param>
public sealed record ShippedRecipe(
    string Name,
    Finish Finish,
    string MaterialGroup,
    string ReferenceMaterial,
    Length ReferenceThickness,
    IReadOnlyList<RecipeStep> Steps
);

/// <summary>
/// The four finishes as a new workshop starts with them. All times and temperatures are common practice, no source: the owner's own tests
/// and the coatings' data sheets rule.
/// </summary>
public static class ShippedRecipes
{
    /// <summary>All of them.</summary>
    public static IReadOnlyList<ShippedRecipe> All { get; } =
    [
        Recipe(
            "Show-through",
            Finish.ShowThrough,
            "",
            "al",
            1,
            [.. Prepare("paper towel"), ShippedSteps.Spray(CoatingKind.Clear), ShippedSteps.Flash(), ShippedSteps.Cure(), .. PressAbove()]
        ),
        Recipe(
            "White ground",
            Finish.WhiteGround,
            "",
            "al",
            1,
            [
                .. Prepare("paper towel"),
                ShippedSteps.Spray(CoatingKind.WhiteBase),
                ShippedSteps.Rest(300, 1800, "White base and clear: 5 to 30 min between them."),
                ShippedSteps.Spray(CoatingKind.Clear),
                ShippedSteps.Flash(),
                ShippedSteps.Cure(),
                .. PressAbove(),
            ]
        ),
        Recipe(
            "Velvet matt",
            Finish.VelvetMatt,
            "",
            "al",
            1,
            [
                .. Prepare("soft cloth, no streaks"),
                ShippedSteps.Spray(CoatingKind.Matt),
                ShippedSteps.Rest(120, 1800, "A short wait, then the next coat."),
                ShippedSteps.Spray(CoatingKind.Matt),
                ShippedSteps.Flash(),
                ShippedSteps.Cure(),
                .. PressAbove(),
            ]
        ),
        Recipe(
            "Behind glass",
            Finish.BehindGlass,
            "glass",
            "glass",
            3,
            [
                .. Prepare("paper towel"),
                ShippedSteps.Spray(CoatingKind.Clear),
                ShippedSteps.Flash(),
                ShippedSteps.Cure(),
                ShippedSteps.CoolGlass(),
                ShippedSteps.Spray(CoatingKind.Translucent),
                ShippedSteps.Flash(),
                ShippedSteps.CureTranslucent(),
                .. Print(ShippedSteps.TapeBelow(), ShippedSteps.PressBelow()),
            ]
        ),
    ];

    private static ShippedRecipe Recipe(
        string name,
        Finish finish,
        string group,
        string material,
        decimal millimetres,
        List<RecipeStep> steps
    ) => new(name, finish, group, material, Length.FromMillimetres(millimetres), [.. steps.Select((s, i) => s with { Number = i + 1 })]);

    private static IEnumerable<RecipeStep> Prepare(string cloth) => [ShippedSteps.Clean(), ShippedSteps.Wipe(cloth)];

    private static IEnumerable<RecipeStep> PressAbove() => Print(ShippedSteps.TapeAbove(), ShippedSteps.PressAbove());

    private static IEnumerable<RecipeStep> Print(RecipeStep tape, RecipeStep press) =>
        [ShippedSteps.CoolToTape(), tape, press, ShippedSteps.CoolAfterPress(), ShippedSteps.Inspect(), ShippedSteps.Pack()];
}
