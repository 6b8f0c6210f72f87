using ShopFloor.Domain.Heat;

namespace ShopFloor.Domain.Recipes;

/// <summary>What a list of steps must keep to, so that it can be planned and worked.</summary>
public static class RecipeRules
{
    /// <summary>Longest length, rest or dwell that makes sense: one day.</summary>
    public const int MaxSeconds = 86_400;

    /// <summary>Longest sentence on how a step is done.</summary>
    public const int LongestNote = 300;

    /// <summary>Longest text on how piece and print lie.</summary>
    public const int LongestLayUp = 80;

    /// <summary>The pressure of a step that names none.</summary>
    public const string UsualPressure = "medium";

    /// <summary>The marked positions of a press's dial.</summary>
    public static IReadOnlyList<string> Pressures { get; } = ["light", UsualPressure, "heavy"];

    /// <summary>The peel of a press step that names none.</summary>
    public const string UsualPeel = "hot";

    private const string ColdPeel = "cold";

    /// <summary>When the paper may come off.</summary>
    public static IReadOnlyList<string> Peels { get; } = [UsualPeel, ColdPeel];

    /// <summary>When the paper comes off at that step; where only its words say so, as they say.</summary>
    public static string PeelOf(RecipeStep step) => step.Peel ?? (Says(step.Note, $"peel {ColdPeel}") ? ColdPeel : UsualPeel);

    /// <summary>Every fault of the list; empty when it is sound.</summary>
    public static List<Refusal> Faults(IReadOnlyList<RecipeStep> steps)
    {
        var faults = new List<Refusal>();
        if (steps.Count == 0)
            return [new Refusal("steps-missing", "A recipe needs at least one step.", "steps")];
        for (var i = 0; i < steps.Count; i++)
        {
            faults.AddRange(StepFaults(steps[i], i + 1));
            faults.AddRange(OvenFaults(steps[i], i + 1));
            faults.AddRange(WordFaults(steps[i], i + 1));
        }
        faults.AddRange(RecipeOrder.Faults(steps));
        return faults;
    }

    /// <summary>Every fault of the steps of one piece: their numbers and order. What is written on how to lay up is the recipe's, or the wrap press's;
    /// how far it cools before hands touch it is judged where a recipe is saved, not where a customer waits for a price.</summary>
    public static IReadOnlyList<Refusal> FaultsOfWork(IReadOnlyList<RecipeStep> steps) =>
        [.. steps.SelectMany((s, i) => StepFaults(s, i + 1)), .. RecipeOrder.Faults(steps).Where(f => f.Code != RecipeOrder.HotToTouch)];

    private static IEnumerable<Refusal> StepFaults(RecipeStep step, int number)
    {
        var where = $"Step {number}";
        if (step.Number != number)
            yield return new Refusal("step-number", $"{where} is numbered {step.Number}.", $"step-{number}");
        var timed = step.Kind.IsRest() || step.Kind.HasWindow();
        if (!timed && step.LengthSeconds is < 1 or > MaxSeconds)
            yield return new Refusal("step-length", $"{where} needs a length from 1 second to a day.", $"step-{number}");
        if (timed && (step.MinSeconds is < 0 or > MaxSeconds || step.MaxSeconds < step.MinSeconds || step.MaxSeconds > MaxSeconds))
            yield return new Refusal(
                "step-window",
                $"{where}: the longest time is shorter than the shortest, or over a day.",
                $"step-{number}"
            );
        if (step.Kind.HasWindow() && step.MaxSeconds is null)
            yield return new Refusal("step-window", $"{where} needs a longest time.", $"step-{number}");
        if (HeatOf(step.Kind) is var (least, most) && !(step.Celsius >= least && step.Celsius <= most))
            yield return new Refusal("step-temperature", $"{where} needs a temperature from {least} to {most} °C.", $"step-{number}-heat");
        if (step.Kind == StepKind.Spray && step.Coating is null)
            yield return new Refusal("step-coating", $"{where} needs a coating.", $"step-{number}");
        if (step is { Kind: StepKind.Spray, Coating: CoatingKind.Promoter })
            yield return new Refusal("step-coating", $"{where}: promoter is wiped on, not sprayed.", $"step-{number}");
        if (step.MaxWaitSeconds is < 1 or > MaxSeconds)
            yield return new Refusal("step-wait", $"{where}: the longest wait is from 1 second to a day.", $"step-{number}");
    }

    // A bake that no piece can be fitted to is refused where it is written, not when the first customer waits for a price. The times of one
    // piece may be longer: they are the recipe's and what the piece needs on top.
    private static IEnumerable<Refusal> OvenFaults(RecipeStep step, int number)
    {
        if (!step.Kind.InOven())
            yield break;
        if (step.MinSeconds == 0)
            yield return new Refusal("step-window", $"Step {number} bakes for at least a second.", $"step-{number}");
        if (step.MaxSeconds > CureRecipe.MostMinutes * 60)
            yield return new Refusal(
                "step-window",
                $"Step {number} bakes for at most {CureRecipe.MostMinutes} minutes.",
                $"step-{number}-max"
            );
    }

    /// <summary>From how cold to how hot a step may be, °C: as far as the time of a piece can be told; null: a step without heat.</summary>
    public static (int Least, int Most)? HeatOf(StepKind kind) =>
        kind.InOven() ? (CureRecipe.LeastCelsius, CureRecipe.MostCelsius)
        : kind.HasWindow() ? (PlatenSettings.LeastCelsius, PlatenSettings.MostCelsius)
        : null;

    // Which way up the piece lies decides from where the heat comes, so the text has to say it.
    private static IEnumerable<Refusal> WordFaults(RecipeStep step, int number)
    {
        if (step.Note.Length > LongestNote)
            yield return new Refusal("step-note", $"Step {number}: at most {LongestNote} characters.", $"step-{number}-note");
        if (step.Kind != StepKind.Press)
            yield break;
        if (step.Pressure is { } pressure && !Pressures.Contains(pressure))
            yield return new Refusal("step-pressure", $"Step {number}: the pressure is light, medium or heavy.", $"step-{number}-pressure");
        if (!Peels.Contains(PeelOf(step)))
            yield return new Refusal("step-peel", $"Step {number}: the paper comes off hot or cold.", $"step-{number}-peel");
        foreach (var other in Peels.Where(p => p != PeelOf(step) && Says(step.Note, $"peel {p}")))
            yield return new Refusal(
                "step-peel-note",
                $"Step {number}: its words say to peel {other}, but the paper is set to come off {PeelOf(step)}.",
                $"step-{number}-note"
            );
        if (step.LayUp is not { } layUp)
            yield break;
        if (layUp.Length > LongestLayUp)
            yield return new Refusal("step-lay-up", $"Step {number}: at most {LongestLayUp} characters.", $"step-{number}-layUp");
        if (Says(layUp, "above") == Says(layUp, "below"))
            yield return new Refusal(
                "step-lay-up",
                $"Step {number}: write whether the print lies above or below, with that word.",
                $"step-{number}-layUp"
            );
    }

    private static bool Says(string text, string word) => text.Contains(word, StringComparison.OrdinalIgnoreCase);
}
