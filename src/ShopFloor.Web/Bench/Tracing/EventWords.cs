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
            StepStarted s => $"{Step(s.Step)} started{With(s.Decision)}",
            StepFinished s => $"{Step(s.Step)} finished{With(s.Measured)}{With(s.Decision)}",
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

    private static string With(string? text) => string.IsNullOrEmpty(text) ? "" : $" ({text})";
}
