using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Background.Plans;

/// <summary>How a promise stands by the plan.</summary>
/// <param name="Spare">Time to spare, below zero: late; null: not all of it is planned.</param>
/// <param name="LeftOut">Why the plan leaves some of it out, in a few words, e.g. <c>no coating</c>; null: it leaves nothing out.</param>
public readonly record struct PlannedPromise(TimeSpan? Spare, string? LeftOut)
{
    /// <summary>Judges it.</summary>
    /// <param name="plan">The plan; null while there is none.</param>
    /// <param name="promised">The promise, UTC.</param>
    /// <param name="open">Pieces that are not done yet, at least one.</param>
    public static PlannedPromise Of(ReadPlan? plan, DateTimeOffset promised, IReadOnlyCollection<Piece> open)
    {
        if (plan is null)
            return default;
        var ends = plan.PieceEnds();
        var left = open.Select(p => plan.LeftOut.GetValueOrDefault(p.Code)).FirstOrDefault(l => l is not null);
        return new PlannedPromise(open.All(p => ends.ContainsKey(p.Code)) ? promised - open.Max(p => ends[p.Code]) : null, left?.Reason);
    }
}
