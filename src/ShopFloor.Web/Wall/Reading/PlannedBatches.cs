using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Reading;
using Batch = ShopFloor.Domain.Pieces.Batch;
using Planned = ShopFloor.Planning.Exchange.Batch;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>
/// Which batch of the plan is which at the Bench. Once one is put together it goes by its code everywhere, and its page says what the plan
/// calls it, for those who have the day on paper.
/// </summary>
internal static class PlannedBatches
{
    /// <summary>The rounds of the plan whose can is gone since it was made: they wait for a new plan. What runs is no matter of the plan.</summary>
    internal static IReadOnlySet<string> Waiting(WorkNow now, ReadPlan plan)
    {
        var running = plan.Day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        return plan
            .Plan.Batches.Where(b => b.Can is { } can && now.GoneCans.Contains(can) && !running.Contains(b.Id))
            .Select(b => b.Id)
            .ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>The members of a batch of the plan, with the numbers of their steps.</summary>
    internal static IEnumerable<(string Code, int Step)> MembersOf(ReadPlan plan, Planned batch) =>
        batch.Places.Count > 0
            ? batch.Places.Select(p => (p.Piece, p.Step))
            : plan.OfBatch[batch.Id].Where(t => t is { Piece: not null, Step: not null }).Select(t => (t.Piece!, t.Step!.Value));

    /// <summary>What people call a batch of the plan now: the code of the one that is put together of its pieces, or else its letter.</summary>
    internal static string NameOf(ReadPlan plan, string id, OpenWork work) =>
        work.Batches.FirstOrDefault(b => b.State == BatchState.Building && Of(plan, b, work)?.Id == id)?.Code ?? PlannedName.Of(id);

    /// <summary>What the plan calls a batch that is being put together; null: the plan has none such.</summary>
    internal static string? LetterOf(ReadPlan plan, Batch built, OpenWork work) =>
        built.State == BatchState.Building && Of(plan, built, work) is { } planned ? PlannedName.Of(planned.Id) : null;

    // The one that most of its pieces are in.
    private static Planned? Of(ReadPlan plan, Batch built, OpenWork work)
    {
        var kind = KindOf(built.Kind);
        var running = plan.Day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        var places = built.Places.ToDictionary(p => p.Piece, p => p.Step);
        var inside = work.Pieces.Where(p => places.ContainsKey(p.Id)).Select(p => (p.Code, places[p.Id])).ToHashSet();
        return plan
            .Plan.Batches.Where(b => b.Kind == kind && !running.Contains(b.Id))
            .Select(b => (Batch: b, Shared: MembersOf(plan, b).Count(inside.Contains)))
            .Where(b => b.Shared > 0)
            .OrderByDescending(b => b.Shared)
            .Select(b => b.Batch)
            .FirstOrDefault();
    }

    /// <summary>The plan's word for a kind of batch.</summary>
    internal static string KindOf(BatchKind kind) =>
        kind switch
        {
            BatchKind.SprayRound => BatchKinds.Round,
            BatchKind.OvenLoad => BatchKinds.Load,
            _ => BatchKinds.Session,
        };
}
