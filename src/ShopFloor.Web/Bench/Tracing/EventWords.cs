using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Tracing;

/// <summary>What happened to a piece, in words.</summary>
public static class EventWords
{
    /// <param name="happened">The event.</param>
    /// <param name="steps">Words of the piece's steps by number.</param>
    public static string Of(PieceEvent happened, IReadOnlyDictionary<int, string> steps)
    {
        string Step(int number) => steps.GetValueOrDefault(number) ?? $"step {number}";
        return happened switch
        {
            PieceBooked => "Booked",
            PieceReceived => "Came in",
            StepStarted s => $"{Step(s.Step)} started{With(Decided(s.Decision))}",
            StepFinished s => $"{Step(s.Step)} finished{With(s.Measured)}{With(Decided(s.Decision))}",
            StepSkipped s => $"{Step(s.Step)} left out: {s.Reason}",
            StepBrokenOff s => $"{Step(s.Step)} broken off: {s.Reason}",
            PictureBound b => $"Got its print{With(b.Text)}",
            FaultFound f => $"Fault: {FaultList.Find(f.Fault)?.Name ?? f.Fault}{With(f.Note)}",
            PieceInspected i => $"Inspected: {i.Findings.InWords()}",
            TestJudged t => $"Test: {Test(t.Outcome)}{With(t.Note)}",
            PieceHeld h => $"Put aside: {h.Reason}",
            PieceReleased r => $"Taken up again: {r.Reason}",
            ReworkBegun r => $"Back to {Step(r.FromStep)}: {r.Reason}",
            PieceSpoiled s => $"Spoiled: {s.Reason}",
            PieceReturned r => $"Given back unworked: {r.Reason}",
            PieceCalledOff c => $"Order called off, to be given back: {c.Reason}",
            PieceHandedOver => "Handed over",
            MovesUndone u => $"Taken one step back: {u.Reason}",
            _ => throw new ArgumentOutOfRangeException(nameof(happened), happened, "Unknown event."),
        };
    }

    private static string Test(TestOutcome outcome) =>
        outcome switch
        {
            TestOutcome.Good => "good",
            TestOutcome.Limits => "good within limits",
            _ => "not good",
        };

    // What was wrong is kept by its code, before the reason.
    private static string? Decided(string? decision)
    {
        if (decision?.IndexOf(": ", StringComparison.Ordinal) is not (> 0 and var at))
            return decision;
        var wrong = decision[..at].Split(", ").Select(Wrong).ToList();
        return wrong.Contains(null) ? decision : string.Join(", ", wrong) + decision[at..];
    }

    private static string? Wrong(string code) =>
        code switch
        {
            "too-early" => "too early",
            "too-late" => "too late",
            "temperature-off" => "wrong temperature",
            Moves.Unprinted.Code => "not printed here",
            Moves.PrintAge.Damp => "print not dry yet",
            Moves.PrintAge.Stale => "print too old",
            TestPieces.TestFirst.Code => "without a test",
            _ => null,
        };

    private static string With(string? text) => string.IsNullOrEmpty(text) ? "" : $" ({text})";
}
