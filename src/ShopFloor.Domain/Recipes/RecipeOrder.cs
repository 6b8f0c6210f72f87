namespace ShopFloor.Domain.Recipes;

/// <summary>In what order steps can be done: each fault names the place of the step it is about.</summary>
public static class RecipeOrder
{
    /// <summary>°C: what hands may hold; bare metal burns skin that touches it for a minute above 51 °C (ISO 13732-1:2006, from memory).</summary>
    public const decimal HottestToTouch = 51;

    /// <summary>Said of a cooling that ends hotter than that.</summary>
    public const string HotToTouch = "hot-to-touch";

    /// <summary>Name of a step's place in the list, under which its faults are shown.</summary>
    /// <param name="number">The step's number.</param>
    public static string Place(int number) => string.Create(CultureInfo.InvariantCulture, $"step-{number}-place");

    /// <summary>Every fault of the order; empty when it is sound.</summary>
    public static IReadOnlyList<Refusal> Faults(IReadOnlyList<RecipeStep> steps)
    {
        var faults = new List<Refusal>();
        for (var i = 0; i < steps.Count; i++)
            faults.AddRange(FaultsAt(steps, i));
        if (steps.Count > 0 && !steps.Any(s => s.Kind == StepKind.Inspect))
            faults.Add(At(steps.Count, "inspect-missing", "No step looks the piece over: add Inspect, or nothing can be handed over."));
        return faults;
    }

    private static IEnumerable<Refusal> FaultsAt(IReadOnlyList<RecipeStep> steps, int i)
    {
        var (step, number) = (steps[i], i + 1);
        if (step.Kind.IsRest() && (i == 0 || i == steps.Count - 1))
            yield return At(number, "rest-at-end", "A recipe neither begins nor ends with a wait: move it, or take it out.");
        if (i > 0 && Between(steps[i - 1], step) is var (code, why))
            yield return At(number, code, $"Step {number} comes right after step {i}: {why}");
        if (step.Kind == StepKind.Press && !steps.Take(i).Any(s => s.Kind == StepKind.Tape))
            yield return At(number, "press-before-tape", "Nothing is taped on yet: a Tape step comes before the press.");
        if (step.Kind == StepKind.Tape && !steps.Skip(number).Any(s => s.Kind == StepKind.Press))
            yield return At(number, "tape-without-press", "What is taped on is never pressed: add a Press step after it.");
        if (step.Kind == StepKind.Tape && steps.Take(i).Any(s => s.Kind == StepKind.Tape))
            yield return At(number, "tape-twice", "A piece gets its print once: leave one Tape step.");
        if (step.Kind is not (StepKind.Inspect or StepKind.Pack or StepKind.Rest) && steps.Take(i).Any(s => s.Kind == StepKind.Inspect))
            yield return At(number, "work-after-inspect", "The piece was looked over already: only Pack comes after Inspect.");
    }

    // What may not follow at once.
    private static (string Code, string Why)? Between(RecipeStep before, RecipeStep step)
    {
        if (step.Kind.IsRest())
            return before.Kind.IsRest() ? ("rest-twice", "both are waits, make them one.") : null;
        if (before.CoolToCelsius is { } warm && warm > HottestToTouch && !step.Kind.HasWindow() && step.Kind != StepKind.Spray)
            return (
                HotToTouch,
                string.Create(CultureInfo.InvariantCulture, $"at {warm:0.#} °C it burns hands, let it cool to {HottestToTouch} °C at most.")
            );
        if (before.Kind == StepKind.Spray && step.Kind != StepKind.Spray)
            return ("wet-coat", "the coat is still wet, put a flash-off between them.");
        return before.Kind.HasWindow() && !step.Kind.HasWindow()
            ? ("still-hot", "the piece is still hot, let it cool between them.")
            : null;
    }

    private static Refusal At(int number, string code, string text) => new(code, text, Place(number));
}
