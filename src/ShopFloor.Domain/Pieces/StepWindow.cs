using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>Judges whether a step may begin or end now.</summary>
internal static class StepWindow
{
    /// <summary>Null when the step may begin; else what is wrong with the time.</summary>
    internal static Refusal? AtStart(WorkItem? before, DateTimeOffset at)
    {
        if (before is null)
            return null;
        if (before.Kind.IsRest())
            return before.StartedAt is { } begun ? Judge(before.Settings, at - begun, Name(before), RestEnd(before, at) - begun) : null;
        if (before.Settings.MaxWaitSeconds is { } most && before.FinishedAt is { } ended && (at - ended).TotalSeconds > most)
            return new Refusal(
                "too-late",
                $"{Name(before)} was {Clock(at - ended)} ago; the next step has to follow within {Clock(TimeSpan.FromSeconds(most))}."
            );
        return null;
    }

    // A rest that ended in time was not too long, however much later the step after it is done again.
    private static DateTimeOffset RestEnd(WorkItem rest, DateTimeOffset at) =>
        rest is { State: WorkState.Done, FinishedAt: { } ended } ? ended : at;

    /// <summary>Null when the step may end; else what is wrong with the time.</summary>
    /// <param name="item">The step.</param>
    /// <param name="at">When it ends.</param>
    /// <param name="since">From when its shortest time counts; null: from its beginning, as its longest always does.</param>
    internal static Refusal? AtFinish(WorkItem item, DateTimeOffset at, DateTimeOffset? since) =>
        item.Kind.HasWindow() && item.StartedAt is { } begun ? Judge(item.Settings, at - (since ?? begun), Name(item), at - begun) : null;

    private static Refusal? Judge(RecipeStep step, TimeSpan ran, string name, TimeSpan? ended = null)
    {
        // What counts from later on, until a cold oven is warm, has not run yet.
        ran = ran > TimeSpan.Zero ? ran : TimeSpan.Zero;
        var least = TimeSpan.FromSeconds(step.MinSeconds);
        if (ran < least)
            return new Refusal("too-early", $"{name} has run {Clock(ran)} of at least {Clock(least)}: {Clock(least - ran)} to go.");
        var whole = ended ?? ran;
        if (step.MaxSeconds is { } most && whole.TotalSeconds > most)
            return new Refusal(
                "too-late",
                $"{name} has run {Clock(whole)}, longer than the {Clock(TimeSpan.FromSeconds(most))} allowed. Decide what to do with the piece."
            );
        return null;
    }

    private static string Name(WorkItem item) =>
        item.Kind switch
        {
            StepKind.Rest => item.Settings.CoolToCelsius is null ? "The flash-off" : "Cooling",
            StepKind.Cure => "The cure",
            StepKind.Dry => "Drying",
            StepKind.Press => "The press",
            StepKind.Wipe => "The promoter",
            _ => item.Kind.ToString(),
        };

    private static string Clock(TimeSpan span)
    {
        var seconds = (long)Math.Ceiling(Math.Abs(span.TotalSeconds));
        if (seconds < 60)
            return $"{seconds} s";
        return seconds < 7200 ? $"{seconds / 60} min {seconds % 60} s" : $"{seconds / 3600} h {seconds / 60 % 60} min";
    }
}
