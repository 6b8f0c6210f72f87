using ShopFloor.Planning.DayPlans;

namespace ShopFloor.Cli;

/// <summary>Says how far the search is, where somebody looks on; a file or a pipe gets nothing.</summary>
internal sealed class ProgressLine(TextWriter errors)
{
    /// <summary>One line for each doubling: often in the beginning, when much changes, and never a flood.</summary>
    private int next = 1;

    public void Say(PlanProgress progress)
    {
        if (Console.IsErrorRedirected || progress.Round < next)
            return;
        next = 2 * progress.Round;
        errors.WriteLine(FormattableString.Invariant($"round {progress.Round}: value {progress.Value}, bound {progress.Bound}"));
    }
}
