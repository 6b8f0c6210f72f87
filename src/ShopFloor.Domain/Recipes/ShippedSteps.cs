namespace ShopFloor.Domain.Recipes;

/// <summary>
/// The steps as a recipe starts with them, shipped or added by the owner. All times and temperatures are common practice, no source: the
/// owner's own tests and the coatings' data sheets rule.
/// </summary>
public static class ShippedSteps
{
    private const int CoatWithin = 600;

    /// <summary>Every step that may be added to a recipe of that finish, in the order in which they are usually done.</summary>
    public static IReadOnlyList<RecipeStep> For(Finish finish)
    {
        var glass = finish == Finish.BehindGlass;
        RecipeStep[] steps =
        [
            Clean(),
            Mask(),
            FittedRecipe.Drying,
            Wipe(finish == Finish.VelvetMatt ? "soft cloth, no streaks" : "paper towel"),
            Spray(CoatingKind.WhiteBase),
            Spray(CoatingKind.Clear),
            Spray(CoatingKind.Matt),
            Spray(CoatingKind.Translucent),
            Flash(),
            glass ? CureTranslucent() : Cure(),
            glass ? CoolGlass() : CoolToTape(),
            glass ? TapeBelow() : TapeAbove(),
            glass ? PressBelow() : PressAbove(),
            Inspect(),
            Pack(),
        ];
        return steps;
    }

    internal static RecipeStep Clean() => new(1, StepKind.Clean) { LengthSeconds = 120, Note = "Degrease, dry, no dust." };

    internal static RecipeStep Wipe(string cloth) =>
        new(1, StepKind.Wipe)
        {
            Coating = CoatingKind.Promoter,
            LengthSeconds = 60,
            MaxWaitSeconds = CoatWithin,
            Note = $"Thin, all over lengthwise, then all over crosswise: {cloth}. It need not dry.",
        };

    internal static RecipeStep Spray(CoatingKind coating) =>
        new(1, StepKind.Spray)
        {
            Coating = coating,
            LengthSeconds = 40,
            Note = "One full pass lengthwise, one crosswise.",
        };

    internal static RecipeStep Rest(int min, int max, string note) =>
        new(1, StepKind.Rest)
        {
            MinSeconds = min,
            MaxSeconds = max,
            Note = note,
        };

    // So long that two shelves of small pieces stay within what a closed oven of 60 l takes: half of the solvent leaves in 5 min, a 256th is left
    // after 40 (docs/decisions/021).
    internal static RecipeStep Flash() => Rest(2400, 5400, "Flash-off in moving air, dust-free.");

    internal static RecipeStep Cure() => Cure(900, 1200);

    internal static RecipeStep CureTranslucent() => Cure(780, 1080);

    internal static RecipeStep CoolGlass() => Cool(60, "Still air only, never on metal or wet cloth: hot glass can crack.");

    internal static RecipeStep CoolToTape() => Cool(35, "Safe to touch before the print is taped on.");

    internal static RecipeStep CoolAfterPress() => Cool(35, "Leave it alone until it can be touched.");

    internal static RecipeStep TapeAbove() => Tape("Print on top, coated face to the print.");

    // What a recipe for flat pieces says of taping does not hold for a mantle.
    internal static RecipeStep TapeRound { get; } = Tape("Print round the piece, coated mantle to the print.");

    internal static RecipeStep TapeBelow() => Tape("Coated face on the print.");

    internal static RecipeStep PressAbove() => Press("print above", 50, 70);

    internal static RecipeStep PressBelow() => Press("print below, picture up", 230, 250);

    internal static RecipeStep Inspect() =>
        new(1, StepKind.Inspect) { LengthSeconds = 60, Note = "Sharp, even, nothing missing, right way round." };

    internal static RecipeStep Pack() => new(1, StepKind.Pack) { LengthSeconds = 90, Note = "With the care note." };

    private static RecipeStep Mask() => new(1, StepKind.Mask) { LengthSeconds = 120, Note = "Cover threads, hinges, rubber." };

    private static RecipeStep Cure(int min, int max) =>
        new(1, StepKind.Cure)
        {
            Celsius = 160,
            MinSeconds = min,
            MaxSeconds = max,
            Note = "The time counts from when the oven is back at its temperature.",
        };

    private static RecipeStep Cool(decimal celsius, string note) =>
        new(1, StepKind.Rest)
        {
            MinSeconds = 180,
            CoolToCelsius = celsius,
            Note = note,
        };

    private static RecipeStep Tape(string note) => new(1, StepKind.Tape) { LengthSeconds = 90, Note = $"{note} Fix with heat tape." };

    private static RecipeStep Press(string layUp, int min, int max) =>
        new(1, StepKind.Press)
        {
            Celsius = 190,
            MinSeconds = min,
            MaxSeconds = max,
            Pressure = RecipeRules.UsualPressure,
            Peel = RecipeRules.UsualPeel,
            LayUp = layUp,
            Note = "A fresh protective sheet each time. Wipe after peeling.",
        };
}
