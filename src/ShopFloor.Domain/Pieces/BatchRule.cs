using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>A piece as a batch sees it.</summary>
/// <param name="Piece">Which piece.</param>
/// <param name="Code">Its code, for words.</param>
/// <param name="Step">The step that would be done in the batch, fitted to the piece.</param>
/// <param name="Thickness">As it lies.</param>
public sealed record BatchMember(PieceId Piece, string Code, RecipeStep Step, Length Thickness);

/// <summary>Which pieces may share a round, a load or a session, and with which one setting.</summary>
public static class BatchRule
{
    /// <summary>The kind of batch in which a step is done; null when it is done piece by piece.</summary>
    public static BatchKind? KindFor(StepKind step) =>
        step switch
        {
            StepKind.Spray => BatchKind.SprayRound,
            StepKind.Cure or StepKind.Dry => BatchKind.OvenLoad,
            StepKind.Press => BatchKind.PressSession,
            _ => null,
        };

    /// <summary>The setting that suits every member, or each reason why there is none.</summary>
    /// <param name="kind">Round, load or session.</param>
    /// <param name="members">At least one.</param>
    /// <param name="errorCelsius">Shown minus true of the station, °C.</param>
    /// <param name="tolerance">How much thicknesses may differ; null where it does not matter.</param>
    /// <param name="shakeSeconds">Shake of the can, for rounds.</param>
    /// <param name="inside">How many of the members, the first ones, are in the batch already; 0 to their number.</param>
    public static Result<BatchSettings> Fit(
        BatchKind kind,
        IReadOnlyList<BatchMember> members,
        decimal errorCelsius,
        Length? tolerance,
        int shakeSeconds,
        int inside = 0
    )
    {
        if (members.Count == 0)
            return new Refusal("batch-empty", "Choose at least one piece.");
        var mixed = Mixed(kind, members).ToList();
        if (mixed.Count > 0)
            return Misfit.Refuse(mixed, members.Count - inside);
        var faults = Window(kind, members).Concat(Thickness(members, tolerance)).ToList();
        return faults.Count > 0 ? Result<BatchSettings>.Refused(faults) : Common(kind, members, errorCelsius, shakeSeconds);
    }

    private static BatchSettings Common(BatchKind kind, IReadOnlyList<BatchMember> members, decimal errorCelsius, int shakeSeconds)
    {
        var first = members[0].Step;
        var round = kind == BatchKind.SprayRound;
        return new BatchSettings
        {
            Celsius = round ? null : first.Celsius,
            DialCelsius = round ? null : first.Celsius + errorCelsius,
            MinSeconds = round ? 0 : members.Max(m => m.Step.MinSeconds),
            MaxSeconds = round ? null : members.Min(m => m.Step.MaxSeconds),
            Pressure = kind == BatchKind.PressSession ? first.Pressure : null,
            LayUp = kind == BatchKind.PressSession ? first.LayUp : null,
            ShakeSeconds = round ? shakeSeconds : 0,
        };
    }

    private static IEnumerable<Misfit> Mixed(BatchKind kind, IReadOnlyList<BatchMember> members) =>
        members.Select(m => Mixed(kind, m, members[0])).OfType<Misfit>();

    private static Misfit? Mixed(BatchKind kind, BatchMember m, BatchMember first)
    {
        var (step, wanted) = (m.Step, first.Step);
        if (KindFor(step.Kind) != kind)
            return new("step-differs", $"{m.Code} is at {step.Kind}: that is not done here.", $"standing at {step.Kind}");
        if (step.Kind != wanted.Kind)
            return new(
                "step-differs",
                $"{m.Code} is at {step.Kind}, {first.Code} at {wanted.Kind}: never together.",
                $"standing at {step.Kind}"
            );
        if (kind == BatchKind.SprayRound && step.Coating != wanted.Coating)
            return new(
                "coating-differs",
                $"{m.Code} wants {Words(step.Coating)}, {first.Code} {Words(wanted.Coating)}.",
                $"wanting {Words(step.Coating)}"
            );
        if (kind != BatchKind.SprayRound && step.Celsius != wanted.Celsius)
            return new(
                "temperature-differs",
                string.Create(CultureInfo.InvariantCulture, $"{m.Code} wants {step.Celsius:0.#} °C, {first.Code} {wanted.Celsius:0.#} °C."),
                string.Create(CultureInfo.InvariantCulture, $"wanting {step.Celsius:0.#} °C")
            );
        return kind == BatchKind.PressSession && (step.Pressure, step.LayUp) != (wanted.Pressure, wanted.LayUp)
            ? new("press-differs", $"{m.Code} wants another pressure or lay-up than {first.Code}.", "wanting another pressure or lay-up")
            : null;
    }

    private static string Words(CoatingKind? coating) =>
        coating == CoatingKind.WhiteBase ? "white base" : coating?.ToString().ToLowerInvariant() ?? "no coating";

    private static IEnumerable<Refusal> Window(BatchKind kind, IReadOnlyList<BatchMember> members)
    {
        if (kind == BatchKind.SprayRound)
            yield break;
        var longest = members.MaxBy(m => m.Step.MinSeconds)!;
        var shortest = members.Where(m => m.Step.MaxSeconds is not null).MinBy(m => m.Step.MaxSeconds);
        if (shortest is not null && longest.Step.MinSeconds > shortest.Step.MaxSeconds)
            yield return new Refusal(
                "windows-apart",
                $"{longest.Code} needs at least {longest.Step.MinSeconds} s, {shortest.Code} bears at most {shortest.Step.MaxSeconds} s: not together."
            );
    }

    private static IEnumerable<Refusal> Thickness(IReadOnlyList<BatchMember> members, Length? tolerance)
    {
        if (tolerance is not { } most)
            yield break;
        var thick = members.MaxBy(m => m.Thickness)!;
        var thin = members.MinBy(m => m.Thickness)!;
        if (thick.Thickness.Micrometres - thin.Thickness.Micrometres > most.Micrometres)
            yield return new Refusal(
                "thickness-differs",
                $"{thick.Code} is {thick.Thickness}, {thin.Code} {thin.Thickness}: more apart than the press's {most}."
            );
    }
}
