using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>The times that run: batches, rests, and waits that have a limit.</summary>
internal static class WallTimers
{
    internal static IReadOnlyList<WallTimer> Of(OpenWork work, DateTimeOffset at, IReadOnlyCollection<string> stations)
    {
        var batched = work.Batches.Where(b => b.State == BatchState.Running).SelectMany(b => b.Places).Select(p => p.Piece).ToHashSet();
        var batches = work
            .Batches.Where(b => b.State == BatchState.Running && IsShown(work.Stations[b.Station].Code, stations))
            .Select(b => OfBatch(work, b))
            .OfType<WallTimer>();
        var pieces = work
            .Pieces.Where(p => !batched.Contains(p.Id) && p.State is not (PieceState.Held or PieceState.Booked))
            .Select(p => (Piece: p, Next: p.NextAttended))
            .Where(m => m.Next is not null)
            .Select(m => (m.Piece, Timer: StepCard.TimerOf(m.Piece, m.Next!), m.Next))
            .Where(m => m.Timer is { } t && IsWorthAttention(t, at) && IsShown(work, m.Next!, stations))
            .GroupBy(m => (Code: m.Piece.Tray ?? m.Piece.Code, m.Timer!.Word, m.Timer.Since))
            .Select(g => OfPieces(g.Key.Code, g.Count(), g.First().Timer!, StepWords.Of(g.First().Next!.Settings)));
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
        var kind = DemoStory.KindOf(next.Kind);
        return work.Stations.Values.Any(s => s.Kind == kind && stations.Contains(s.Code));
    }

    private static WallTimer? OfBatch(OpenWork work, Batch batch)
    {
        var member = work.MembersOf(batch).FirstOrDefault();
        var step = member?.Items.FirstOrDefault(i => i.Number == batch.Places.First(p => p.Piece == member.Id).Step);
        var word = step is null ? StepWords.Of(batch.Kind) : StepWords.Of(step.Settings);
        return BatchSheet.TimerOf(batch, word) is { } timer
            ? new WallTimer(
                batch.Code,
                $"{word} {batch.Code}",
                $"{StepWords.Pieces(batch.Places.Count)}, {work.Stations[batch.Station].Name}",
                timer
            )
            : null;
    }

    // What comes after the wait says where somebody has to go.
    private static WallTimer OfPieces(string code, int count, StepTimer timer, string next) =>
        new(
            $"{code} {timer.Word}",
            $"{timer.Word} {code}",
            $"then {next.ToLowerInvariant()}{(count > 1 ? $", {StepWords.Pieces(count)}" : "")}",
            timer
        );
}

/// <summary>The calls that follow from times, promises and pieces put aside.</summary>
internal static class WallCalls
{
    internal static IEnumerable<WallCall> Of(
        OpenWork work,
        IReadOnlyList<WallTimer> timers,
        IReadOnlyList<PromiseLine> promises,
        DateTimeOffset at
    )
    {
        foreach (var timer in timers)
        foreach (var call in OfTimer(work, timer))
            yield return call;
        // One call each, however many orders: the promises below say which.
        var late = promises.Where(p => p.Spare < TimeSpan.Zero || (p.At < at && p.Good < p.Pieces)).ToList();
        if (late.Count > 0)
            yield return new WallCall("late", UrgencyRules.Late, Names(late.Select(p => Number(p.Order))), "", at.AddDays(-1), null);
        var aside = work
            .Pieces.Where(p => p.State == PieceState.Held && work.Orders[p.Order].PromisedAt < at.AddDays(1))
            .Select(p => p.Tray ?? p.Code)
            .Distinct(StringComparer.Ordinal)
            .ToList();
        if (aside.Count > 0)
            yield return new WallCall("aside", UrgencyRules.Aside, Names(aside), "", at.AddDays(-1), null);
    }

    private static string Number(int order) => order.ToString(CultureInfo.InvariantCulture);

    private static string Names(IEnumerable<string> all)
    {
        var names = all.ToList();
        return names.Count <= 4 ? string.Join(", ", names) : $"{string.Join(", ", names.Take(3))} and {names.Count - 3} more";
    }

    private static IEnumerable<WallCall> OfTimer(OpenWork work, WallTimer timer)
    {
        var (time, isBatch) = (timer.Timer, work.Batches.Any(b => b.Code == timer.Key));
        var near = time.Max is { } max ? UrgencyRules.NearFrom(time.Since, max) : (DateTimeOffset?)null;
        if (isBatch && time.Min is { } min && (near is null || min < near))
            yield return new WallCall($"due {timer.Key}", UrgencyRules.Due, timer.What, timer.Where, min, near);
        if (time.Max is not { } most)
            yield break;
        yield return new WallCall($"near {timer.Key}", UrgencyRules.Near, timer.What, timer.Where, near!.Value, most);
        yield return new WallCall($"over {timer.Key}", UrgencyRules.Over, timer.What, timer.Where, most, null);
    }
}
