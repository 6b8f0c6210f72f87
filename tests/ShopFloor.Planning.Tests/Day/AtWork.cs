using ShopFloor.Benchmarks.Days;
using ShopFloor.Planning.DayPlans;
using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Tests.Day;

/// <summary>Takes a plan as it was meant to some moment: what is over is done, what is in hand runs on.</summary>
internal static class AtWork
{
    /// <summary>The day as it is then, with the plan as the published one. A moment in the middle of a shake or a spray is put off
    /// to its end: what is left of a round is a new round with a shake of its own.</summary>
    public static ShopFloor.Planning.Exchange.Day Later(ShopFloor.Planning.Exchange.Day day, Plan plan, int now)
    {
        while (
            plan.Tasks.FirstOrDefault(t => t.Kind is TaskKinds.Shake or TaskKinds.Spray && t.StartS < now && now <= t.EndS) is { } inHand
        )
            now = inHand.EndS!.Value + 1;
        var state = new ShopState(day);
        var batches = plan.Batches.ToDictionary(b => b.Id, StringComparer.Ordinal);
        var done = plan.Tasks.Where(t => t.Kind != TaskKinds.Rest);
        state.Take([.. done.Select(t => new Executed(t, t.Batch is { } b ? batches[b] : null, t.StartS, t.EndS!.Value))], now, 0);
        var later = state.DayAt(now);
        return later with { Published = Published(later, plan, now) };
    }

    private static Published Published(ShopFloor.Planning.Exchange.Day later, Plan plan, int now)
    {
        var times = ShopFloor.Planning.Reports.StepTimes.Of(plan);
        var steps =
            from piece in later.Pieces
            from step in Enumerable.Range(piece.Done + 1, piece.Route.Count - piece.Done)
            where piece.Route[step - 1].Kind != StepKind.Rest && times.ContainsKey((piece.Id, step))
            let time = times[(piece.Id, step)]
            where time.StartS >= now
            select new PublishedStep(piece.Id, step, time.Station, time.StartS - now);
        return new Published(1, 7_200, 600, [.. steps]);
    }

    /// <summary>Pieces that nothing is done to at the moment.</summary>
    public static IReadOnlyList<Piece> Idle(ShopFloor.Planning.Exchange.Day day)
    {
        var busy = day
            .Running.Tasks.Select(t => t.Piece)
            .Concat(day.Running.Batches.SelectMany(b => b.Places.Select(p => (string?)p.Piece)))
            .ToHashSet(StringComparer.Ordinal);
        return [.. day.Pieces.Where(p => !busy.Contains(p.Id))];
    }
}
