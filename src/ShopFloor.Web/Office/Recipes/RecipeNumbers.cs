using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Recipes;

/// <summary>The numbers of a recipe's steps that the owner may change; a change makes the next version.</summary>
public static class RecipeNumbers
{
    /// <summary>All numbers of these steps, in their order.</summary>
    public static IReadOnlyList<NumberOf<IReadOnlyList<RecipeStep>>> Of(IReadOnlyList<RecipeStep> steps) =>
        [.. steps.SelectMany(s => Of(s))];

    /// <summary>Which of all numbers belong to each step.</summary>
    public static IEnumerable<(RecipeStep Step, Range Part)> Parts(IReadOnlyList<RecipeStep> steps)
    {
        var end = 0;
        foreach (var step in steps)
        {
            var begin = end;
            end += Of(step).Count();
            yield return (step, begin..end);
        }
    }

    /// <summary>The words of a step's number without the step: <c>At least</c>.</summary>
    public static string Short(RecipeStep step, string label)
    {
        var words = label[(Title(step).Length + 2)..];
        return char.ToUpperInvariant(words[0]) + words[1..];
    }

    internal static IEnumerable<NumberOf<IReadOnlyList<RecipeStep>>> Of(RecipeStep step)
    {
        var name = Title(step);
        if (!step.Kind.IsRest() && !step.Kind.HasWindow())
            yield return Number(step, "", $"{name}, length", "s", s => s.LengthSeconds, (s, v) => s with { LengthSeconds = Whole(v) });
        if (step.Kind == StepKind.Wipe)
            yield return Number(
                step,
                "wait",
                $"{name}, next step within",
                "s",
                s => s.MaxWaitSeconds,
                (s, v) => s with { MaxWaitSeconds = (int?)v },
                true
            );
        if (step.Kind.HasWindow())
            yield return Number(step, "heat", $"{name}, temperature", "°C", s => s.Celsius, (s, v) => s with { Celsius = v });
        if (!step.Kind.IsRest() && !step.Kind.HasWindow())
            yield break;
        yield return Number(step, "", $"{name}, at least", "s", s => s.MinSeconds, (s, v) => s with { MinSeconds = Whole(v) });
        yield return Number(
            step,
            "max",
            $"{name}, at most",
            "s",
            s => s.MaxSeconds,
            (s, v) => s with { MaxSeconds = (int?)v },
            step.Kind.IsRest()
        );
        if (step.CoolToCelsius is not null)
            yield return Number(
                step,
                "cool",
                $"{name}, until it is down to",
                "°C",
                s => s.CoolToCelsius,
                (s, v) => s with { CoolToCelsius = v }
            );
    }

    /// <summary>Seconds as people say them, e.g. <c>40 min</c>; nothing where seconds are plain.</summary>
    public static string Long(decimal seconds)
    {
        if (seconds is < 60 or > 10_000_000)
            return "";
        var (hours, minutes, rest) = ((int)seconds / 3600, (int)seconds / 60 % 60, (int)seconds % 60);
        var parts = new[] { (hours, "h"), (minutes, "min"), (rest, "s") }.Where(p => p.Item1 > 0);
        return string.Join(" ", parts.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Item1} {p.Item2}")));
    }

    /// <summary>The steps with what is measured at inspection taken from others.</summary>
    public static IReadOnlyList<RecipeStep> WithMeasured(IReadOnlyList<RecipeStep> steps, IReadOnlyList<RecipeStep> from) =>
        [.. steps.Zip(from, (s, f) => s with { CrossCut = f.CrossCut, Gloss = f.Gloss })];

    /// <summary>The steps with what they say besides their numbers taken from others.</summary>
    public static IReadOnlyList<RecipeStep> WithWords(IReadOnlyList<RecipeStep> steps, IReadOnlyList<RecipeStep> from) =>
        [.. steps.Zip(from, WithWords)];

    internal static RecipeStep WithWords(RecipeStep step, RecipeStep from) =>
        step with
        {
            Note = from.Note,
            Pressure = from.Pressure,
            Peel = from.Peel,
            LayUp = from.LayUp,
        };

    /// <summary>A step in words, e.g. <c>3 Spray clear</c>.</summary>
    public static string Title(RecipeStep step) => string.Create(CultureInfo.InvariantCulture, $"{step.Number} {Words(step)}");

    /// <summary>What a step does, e.g. <c>Spray clear</c>.</summary>
    public static string Words(RecipeStep step) =>
        step.Kind switch
        {
            StepKind.Spray => $"Spray {Words(step.Coating)}",
            StepKind.Rest => step.CoolToCelsius is null ? "Flash-off" : "Cool",
            _ => step.Kind.ToString(),
        };

    /// <summary>The same for who chooses a step and does not see its numbers.</summary>
    public static string InFull(RecipeStep step) =>
        step.Kind switch
        {
            StepKind.Clean => "Clean: degrease and dry",
            StepKind.Mask => "Mask: cover threads, hinges, rubber",
            StepKind.Dry => "Dry in the oven",
            StepKind.Wipe => "Wipe on promoter or primer",
            StepKind.Rest when step.CoolToCelsius is null => "Flash-off: wait until it can go on",
            StepKind.Cure => "Cure in the oven",
            StepKind.Tape => "Tape the print on",
            _ => Words(step),
        };

    private static string Words(CoatingKind? coating) =>
        coating == CoatingKind.WhiteBase ? "white base" : coating?.ToString().ToLowerInvariant() ?? "";

    // The first number of a step has the name under which the recipe's rules speak of that step.
    private static NumberOf<IReadOnlyList<RecipeStep>> Number(
        RecipeStep step,
        string part,
        string label,
        string unit,
        Func<RecipeStep, decimal?> get,
        Func<RecipeStep, decimal?, RecipeStep> with,
        bool mayBeEmpty = false
    ) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"step-{step.Number}{(part.Length > 0 ? "-" : "")}{part}"),
            label,
            unit,
            all => get(all[step.Number - 1]),
            (all, v) => [.. all.Select(s => s.Number == step.Number ? with(s, v) : s)],
            mayBeEmpty,
            IsCount: unit == "s"
        );

    private static int Whole(decimal? number) => decimal.ToInt32(number!.Value);
}
