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
    private const int CoatWithin = 600;

    /// <summary>All of them.</summary>
    public static IReadOnlyList<ShippedRecipe> All { get; } =
    [
        Recipe(
            "Show-through",
            Finish.ShowThrough,
            "",
            "al",
            1,
            [.. Prepare("paper towel"), Spray(CoatingKind.Clear), Flash(), Cure(900, 1200), .. PressAbove()]
        ),
        Recipe(
            "White ground",
            Finish.WhiteGround,
            "",
            "al",
            1,
            [
                .. Prepare("paper towel"),
                Spray(CoatingKind.WhiteBase),
                Rest(300, 1800, "White base and clear: 5 to 30 min between them."),
                Spray(CoatingKind.Clear),
                Flash(),
                Cure(900, 1200),
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
                Spray(CoatingKind.Matt),
                Rest(120, 1800, "A short wait, then the next coat."),
                Spray(CoatingKind.Matt),
                Flash(),
                Cure(900, 1200),
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
                Spray(CoatingKind.Clear),
                Flash(),
                Cure(900, 1200),
                Cool(60, "Still air only, never on metal or wet cloth: hot glass can crack."),
                Spray(CoatingKind.Translucent),
                Flash(),
                Cure(780, 1080),
                .. Press("print below, picture up", 230, 250, "Coated face on the print."),
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

    private static IEnumerable<RecipeStep> Prepare(string cloth) =>
        [
            new(1, StepKind.Clean) { LengthSeconds = 120, Note = "Degrease, dry, no dust." },
            new(1, StepKind.Wipe)
            {
                Coating = CoatingKind.Promoter,
                LengthSeconds = 60,
                MaxWaitSeconds = CoatWithin,
                Note = $"Thin, all over lengthwise, then all over crosswise: {cloth}. It need not dry.",
            },
        ];

    private static RecipeStep Spray(CoatingKind coating) =>
        new(1, StepKind.Spray)
        {
            Coating = coating,
            LengthSeconds = 40,
            Note = "One full pass lengthwise, one crosswise.",
        };

    private static RecipeStep Rest(int min, int max, string note) =>
        new(1, StepKind.Rest)
        {
            MinSeconds = min,
            MaxSeconds = max,
            Note = note,
        };

    private static RecipeStep Flash() => Rest(600, 2700, "Flash-off in moving air, dust-free.");

    private static RecipeStep Cure(int min, int max) =>
        new(1, StepKind.Cure)
        {
            Celsius = 160,
            MinSeconds = min,
            MaxSeconds = max,
            Note = "Counts from the moment the set point is regained.",
        };

    private static RecipeStep Cool(decimal celsius, string note) =>
        new(1, StepKind.Rest)
        {
            MinSeconds = 180,
            CoolToCelsius = celsius,
            Note = note,
        };

    private static IEnumerable<RecipeStep> PressAbove() => Press("print above", 50, 70, "Print on top, coated face to the print.");

    private static IEnumerable<RecipeStep> Press(string layUp, int min, int max, string note) =>
        [
            Cool(35, "Safe to touch before the print is taped on."),
            new(1, StepKind.Tape) { LengthSeconds = 90, Note = $"{note} Fix with heat tape." },
            new(1, StepKind.Press)
            {
                Celsius = 190,
                MinSeconds = min,
                MaxSeconds = max,
                Pressure = "medium",
                LayUp = layUp,
                Note = "A fresh protective sheet each time. Peel hot, wipe.",
            },
            Cool(35, "Leave it alone until it can be touched."),
            new(1, StepKind.Inspect) { LengthSeconds = 60, Note = "Sharp, even, nothing missing, right way round." },
            new(1, StepKind.Pack) { LengthSeconds = 90, Note = "With the care note." },
        ];
}
