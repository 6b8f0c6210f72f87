using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using Batch = ShopFloor.Domain.Pieces.Batch;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// Oven loads that run and must come out while nobody is in the shop, overtime included, who may work at the oven, or while all who may have others
/// to take out. No plan can help then: somebody stays, comes
/// back, or the pieces are overbaked.
/// </summary>
public static class UnattendedLoads
{
    /// <summary>Such loads with the latest instant to take each out, UTC.</summary>
    /// <param name="plan">Knows the shifts; null while there is none: nothing can be said.</param>
    /// <param name="batches">Batches of any kind and state.</param>
    /// <param name="at">Now, UTC.</param>
    public static IEnumerable<(Batch Load, DateTimeOffset By)> Of(ReadPlan? plan, IEnumerable<Batch> batches, DateTimeOffset at)
    {
        if (plan is null)
            yield break;
        foreach (var load in batches.Where(b => b is { Kind: BatchKind.OvenLoad, State: BatchState.Running }))
            if (load is { MayEndAt: { } from, MustEndAt: { } to })
            {
                var isLate = IsTakenOutLate(plan, load.Code, to);
                if (at < to && (isLate || !IsSomebodyThere(plan, Length(plan, load.Code), from > at ? from : at, to)))
                    yield return (load, to);
            }
    }

    // Whoever is there may have another load to take out in the same minutes.
    private static bool IsTakenOutLate(ReadPlan plan, string load, DateTimeOffset by) =>
        plan.Day.Running.Batches.Any(b => b.Id == load)
        && plan.OfBatch[load].Any(t => t.Kind == TaskKinds.Unload && plan.Instant(t.StartS) > by);

    // The plan knows how long taking it out lasts; a shift that ends sooner than that is no help.
    private static int Length(ReadPlan plan, string load) =>
        plan.OfBatch[load].Where(t => t.Kind == TaskKinds.Unload).Select(t => t.EndS - t.StartS).FirstOrDefault() ?? 0;

    private static bool IsSomebodyThere(ReadPlan plan, int seconds, DateTimeOffset from, DateTimeOffset to) =>
        plan
            .Day.People.Where(p => p.Can.Contains(StationKind.Oven))
            .SelectMany(p => p.Shifts)
            .Any(s => Later(plan.Instant(s.FromS), from).AddSeconds(seconds) <= plan.Instant(s.ToS) && plan.Instant(s.FromS) <= to);

    private static DateTimeOffset Later(DateTimeOffset a, DateTimeOffset b) => a > b ? a : b;
}
