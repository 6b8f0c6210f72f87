using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Bench.TestPieces;
using ShopFloor.Web.Shared.Look;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>One thing that can be decided.</summary>
public sealed record DecisionChoice(TimeDecision Decision, string Text, string Argument, Glyph Sign);

/// <summary>What can be decided about a step that was outside its time or temperature.</summary>
public static class Decisions
{
    /// <summary>Reasons that need one touch only.</summary>
    public static IReadOnlyList<string> Reasons { get; } =
    ["Busy elsewhere", "Timer forgotten", "Power cut", "Wrong setting", "Judged by eye"];

    /// <summary>The same for a piece that goes on without its test piece.</summary>
    public static IReadOnlyList<string> ReasonsWithoutTest { get; } =
    ["The same went well before", "The customer wants it so", "Judged by eye"];

    /// <summary>The same for a print that was not printed here.</summary>
    public static IReadOnlyList<string> ReasonsWithoutPrint { get; } = ["Printed elsewhere", "Printed before"];

    /// <summary>The same for a print that has not had its time to dry.</summary>
    public static IReadOnlyList<string> ReasonsWhenDamp { get; } = ["Dried with warm air", "Dry to the touch", "Judged by eye"];

    /// <summary>The same for a print that has lain too long.</summary>
    public static IReadOnlyList<string> ReasonsWhenStale { get; } =
    ["Kept dry, dark and flat", "One of them came out well", "Judged by eye"];

    /// <summary>The same for promoter that is wiped on before the can of the coat is there.</summary>
    public static IReadOnlyList<string> ReasonsWithoutCan { get; } = ["The can is here, not booked in yet", "The can is on its way"];

    /// <summary>The same for a load whose oven was too cold.</summary>
    public static IReadOnlyList<string> ReasonsWhenCold { get; } = ["Oven too cold", .. Reasons];

    /// <summary>The reasons that fit what has to be decided.</summary>
    public static IReadOnlyList<string> ReasonsFor(MoveOutcomeArgs outcome, bool isCold = false) =>
        AsksForTest(outcome.Refusals) ? ReasonsWithoutTest
        : AsksForPrint(outcome.Refusals) ? ReasonsWithoutPrint
        : IsAbout(PrintAge.Damp, outcome.Refusals) ? ReasonsWhenDamp
        : IsAbout(PrintAge.Stale, outcome.Refusals) ? ReasonsWhenStale
        : IsAbout(CoatToCome.Code, outcome.Refusals) ? ReasonsWithoutCan
        : isCold ? ReasonsWhenCold
        : Reasons;

    /// <summary>True when less was read in the oven than the load wants: it can still be left in longer.</summary>
    public static bool IsTooCold(MoveOutcomeArgs outcome, decimal? wanted) =>
        outcome.Sent?.Celsius < wanted && outcome.Refusals.Any(r => r.Code == "temperature-off");

    /// <summary>True when simply waiting mends it.</summary>
    public static bool MayWait(MoveOutcomeArgs outcome) => outcome.Refusals.All(r => r.Code is "too-early" or "oven-hot" or PrintAge.Damp);

    /// <summary>True when it is only asked whether the station is hot.</summary>
    public static bool AsksIfHot(MoveOutcomeArgs outcome) => outcome.Refusals.All(r => r.Code == ColdStation.Code);

    /// <summary>True when members of a batch have different things to be decided of them; what is wrong with the same pieces is decided at once.</summary>
    public static bool IsForEach(MoveOutcomeArgs outcome) =>
        outcome.Refusals.Any(r => r.Pieces.Count > 0) && outcome.Refusals.Select(r => r.Field).Distinct().Count() > 1;

    /// <summary>The question as long as it can still be answered; null once somebody else has ended, begun or given up what it is about.</summary>
    public static MoveOutcomeArgs? StillOpen(MoveOutcomeArgs? outcome, CodeSheet? found)
    {
        if (outcome?.Sent is not { } sent)
            return outcome;
        bool IsAt(bool runs) =>
            found?.Pieces.Any(p => !p.State.IsEnd() && p.Step?.Number == sent.Step && p.Step?.IsRunning == runs) == true;
        var isOpen = sent.Move switch
        {
            "finishBatch" => found?.Batch is { State: BatchState.Running } || found?.Pieces.Any(p => p.Step?.Batch == sent.Code) == true,
            "startBatch" => found?.Batch is { State: BatchState.Building },
            // Handwork that nobody began is begun and ended at once.
            "finish" => IsAt(runs: true) || IsAt(runs: false),
            "start" => IsAt(runs: false),
            _ => true,
        };
        return isOpen ? outcome : null;
    }

    /// <summary>The choices for all, mildest first.</summary>
    public static IEnumerable<DecisionChoice> For(MoveOutcomeArgs outcome, IReadOnlyList<StepLine> way) =>
        For(outcome, outcome.Refusals, way);

    /// <summary>The choices for what some of the questions are about, mildest first.</summary>
    public static IEnumerable<DecisionChoice> For(MoveOutcomeArgs outcome, IReadOnlyList<OutcomeRefusal> asked, IReadOnlyList<StepLine> way)
    {
        yield return new DecisionChoice(new TimeDecision(TimeChoice.GoOn, ""), "Go on as it is", "", Glyph.Play);
        // A hot oven near the booth says nothing about the pieces.
        if (asked.All(r => r.Code == "oven-hot"))
            yield break;
        if (outcome.Sent is { Move: "startBatch" } && asked.All(r => r.Pieces.Count > 0))
            yield return new DecisionChoice(new TimeDecision(TimeChoice.LeaveOut, ""), "Leave it out, start without it", "", Glyph.Minus);
        // Nothing was wiped yet: it can wait as it is.
        if (IsAbout(CoatToCome.Code, asked))
            yield break;
        if (AsksForPrint(asked) || IsAbout(PrintAge.Damp, asked) || IsAbout(PrintAge.Stale, asked))
        {
            yield return new DecisionChoice(new TimeDecision(TimeChoice.Hold, ""), "Put it aside", "", Glyph.Hold);
            yield break;
        }
        if (AsksForTest(asked))
        {
            yield return new DecisionChoice(new TimeDecision(TimeChoice.Test, ""), "Put aside, test first", "", Glyph.Question);
            yield break;
        }
        foreach (var step in Earlier(outcome, way))
            yield return new DecisionChoice(new TimeDecision(TimeChoice.Rework, "", step.Number), "Again from: {0}", step.Word, Glyph.Undo);
        yield return new DecisionChoice(new TimeDecision(TimeChoice.Test, ""), "Put aside, test first", "", Glyph.Question);
        yield return new DecisionChoice(new TimeDecision(TimeChoice.Hold, ""), "Put it aside", "", Glyph.Hold);
        yield return new DecisionChoice(new TimeDecision(TimeChoice.Spoil, ""), "Report it as spoiled", "", Glyph.Trash);
    }

    /// <summary>The same tap with a decision; what it ended has ended when it was first tapped, however long the decision took.</summary>
    public static Tap Again(MoveOutcomeArgs outcome, TimeDecision decision) => (outcome.Sent ?? new Tap()) with { Decision = decision };

    /// <summary>The same tap with a decision for each of the questions, in their order.</summary>
    public static Tap Again(MoveOutcomeArgs outcome, IReadOnlyList<TimeDecision> decided, string reason)
    {
        var both = outcome.Refusals.Zip(decided, (r, d) => (r.Pieces, Decision: d with { Reason = reason })).ToList();
        return (outcome.Sent ?? new Tap()) with
        {
            Decision = both.Where(b => b.Pieces.Count == 0).Select(b => b.Decision).FirstOrDefault(),
            // Of a piece with two things wrong the graver decision counts.
            Each = both.SelectMany(b => b.Pieces.Select(p => (Piece: p, b.Decision)))
                .GroupBy(e => e.Piece)
                .ToDictionary(g => g.Key, g => g.Select(e => e.Decision).MaxBy(d => Gravity.IndexOf(d.Choice))!),
        };
    }

    private static readonly List<TimeChoice> Gravity =
    [
        TimeChoice.GoOn,
        TimeChoice.LeaveOut,
        TimeChoice.Rework,
        TimeChoice.Test,
        TimeChoice.Hold,
        TimeChoice.Spoil,
    ];

    // Nothing is wrong with the piece: it only waits for its test.
    private static bool AsksForTest(IReadOnlyList<OutcomeRefusal> asked) => asked.All(r => r.Code == TestFirst.Code);

    private static bool IsAbout(string code, IReadOnlyList<OutcomeRefusal> asked) => asked.All(r => r.Code == code);

    private static bool AsksForPrint(IReadOnlyList<OutcomeRefusal> asked) => asked.All(r => r.Code == Unprinted.Code);

    // The step itself and the two attended ones before it: sanding back further is chosen at the fault.
    private static IEnumerable<StepLine> Earlier(MoveOutcomeArgs outcome, IReadOnlyList<StepLine> way)
    {
        var now = outcome.Sent?.Step ?? way.FirstOrDefault(s => s.Status is StatusKind.Running or StatusKind.Ready)?.Number ?? 0;
        return way.Where(s => s.Number <= now && s.Word is not ("Flash-off" or "Cool"))
            .Reverse()
            .Take(3)
            .Where(s => s.Number < now || s.Status == StatusKind.Running);
    }
}
