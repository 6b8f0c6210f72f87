using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>What changed since the plan before, in a few words.</summary>
internal static class PlanChanges
{
    private const int NoticedSeconds = 600;

    internal static IReadOnlyList<string> Of(WorkNow now)
    {
        if (now.Plan is not { } plan || now.Before is not { } before)
            return [];
        var (starts, past) = (plan.Starts, before.Starts);
        var words = new List<string>();
        var moved = starts
            .Where(s => past.TryGetValue(s.Key, out var was) && Math.Abs((s.Value - was).TotalSeconds) > NoticedSeconds)
            .ToList();
        if (moved.Count > 0)
            words.Add(Moved(now, moved, past));
        var added = plan.Day.Pieces.Select(p => p.Order).Except(before.Day.Pieces.Select(p => p.Order)).ToList();
        if (added.Count > 0)
            words.Add($"new: order {string.Join(", ", added.Take(3))}");
        var left = plan.Plan.LeftOut.Select(l => l.Piece).Except(before.Plan.LeftOut.Select(l => l.Piece)).Count();
        if (left > 0)
            words.Add($"{StepWords.Pieces(left)} could not be planned");
        return words;
    }

    private static string Moved(
        WorkNow now,
        List<KeyValuePair<(string Piece, int Step), DateTimeOffset>> moved,
        IReadOnlyDictionary<(string, int), DateTimeOffset> past
    )
    {
        var pieces = moved.Select(m => m.Key.Piece).Distinct().ToList();
        var later = moved.Count(m => m.Value > past[m.Key]);
        var orders = now
            .Work.Pieces.Where(p => pieces.Contains(p.Code))
            .Select(p => now.Work.Orders[p.Order].Number)
            .Distinct()
            .Order()
            .ToList();
        var way =
            later == moved.Count ? "later"
            : later == 0 ? "earlier"
            : "moved";
        return $"{StepWords.Pieces(pieces.Count)} {way} (order {string.Join(", ", orders.Take(4))}{(orders.Count > 4 ? " …" : "")})";
    }
}
