using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>The times that run: batches, rests, and waits that have a limit.</summary>
internal static class WallTimers
{
    internal static IReadOnlyList<WallTimer> Of(OpenWork work, DateTimeOffset at, IReadOnlyCollection<string> stations)
    {
        var batched = work.Batched(b => b.State == BatchState.Running);
        var batches = work
            .Batches.Where(b => b.State == BatchState.Running && IsShown(work.Stations[b.Station].Code, stations))
            .Select(b => OfBatch(work, b))
            .OfType<WallTimer>();
        var pieces = work
            .Pieces.Where(p => !batched.Contains(p.Id) && p.State.IsUp())
            .Select(p => (Piece: p, Next: p.NextAttended))
            .Where(m => m.Next is not null)
            .Select(m => (m.Piece, Timer: StepCard.TimerOf(m.Piece, m.Next!), m.Next))
            .Where(m => m.Timer is { } t && IsWorthAttention(t, at) && IsShown(work, m.Next!, stations))
            // By the second, as the names of timers and calls have it: two of one name would end the page.
            .GroupBy(m => (Code: m.Piece.Tray ?? m.Piece.Code, m.Timer!.Word, Since: WallTimer.Second(m.Timer.Since)))
            .Select(g => (g.Key.Code, Count: g.Count(), First: g.MinBy(m => m.Timer!.Since)))
            .Select(g => OfPieces(g.Code, g.Count, g.First.Timer!, StepWords.Of(g.First.Piece, g.First.Next!)));
        return
        [
            .. batches
                .Concat(pieces)
                .OrderBy(t => t.Timer.Max ?? t.Timer.Min ?? DateTimeOffset.MaxValue)
                .ThenBy(t => t.Key, StringComparer.Ordinal),
        ];
    }

    // A wait that may end and has no longest time is no time to watch any more: its next step stands among what comes.
    private static bool IsWorthAttention(StepTimer timer, DateTimeOffset at) => timer.Max is not null || timer.Min > at;

    /// <summary>True when a wall with that choice of stations shows that station.</summary>
    internal static bool IsShown(string code, IReadOnlyCollection<string> stations) => stations.Count == 0 || stations.Contains(code);

    private static bool IsShown(OpenWork work, WorkItem next, IReadOnlyCollection<string> stations)
    {
        if (stations.Count == 0)
            return true;
        var kind = next.Kind.DoneAt();
        return work.Stations.Values.Any(s => s.Kind == kind && stations.Contains(s.Code));
    }

    /// <summary>What runs in a batch, e.g. <c>Cure L-1</c>.</summary>
    internal static string What(OpenWork work, Batch batch) => $"{Word(work, batch)} {batch.Code}";

    private static string Word(OpenWork work, Batch batch) =>
        work.StepIn(batch) is { } step ? StepWords.Of(step.Settings) : StepWords.Of(batch.Kind);

    private static WallTimer? OfBatch(OpenWork work, Batch batch) =>
        BatchSheet.TimerOf(batch, Word(work, batch)) is { } timer
            ? new WallTimer(
                batch.Code,
                What(work, batch),
                $"{StepWords.Pieces(batch.Places.Count)}, {work.Stations[batch.Station].Name}",
                timer,
                batch.Code,
                work.Stations[batch.Station].Name
            )
            : null;

    // What comes after the wait says where somebody has to go.
    private static WallTimer OfPieces(string code, int count, StepTimer timer, string next) =>
        new(
            $"{code} {timer.Word}",
            $"{timer.Word} {code}",
            $"then {next.ToLowerInvariant()}{(count > 1 ? $", {StepWords.Pieces(count)}" : "")}",
            timer,
            code,
            timer.Word.ToLowerInvariant()
        );
}
