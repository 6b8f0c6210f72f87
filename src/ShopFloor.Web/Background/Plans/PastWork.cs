using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// What is behind a piece, in the planner's terms. A wait binds what comes next only while it can be kept: what was decided of at the Bench, an
/// early end or one that came too late, is no fault of the next plan.
/// </summary>
/// <param name="Closed">Steps that are closed at the Bench.</param>
/// <param name="Done">Steps that are finished for the plan.</param>
/// <param name="LastEnd">When the last of those ended, seconds, at most 0; null when there is none.</param>
internal sealed record PastWork(int Closed, int Done, int? LastEnd)
{
    // Longer than anybody plans, in seconds: a wipe must have a longest wait.
    private const int Ever = 366 * 86_400;

    /// <summary>
    /// A rest that somebody has ended, and nothing that a plan can join took the piece on from it: a step by hand that was just begun, or a
    /// load that was broken off. The piece still lies on its rack, so for the plan it rests until its next step. Null: none.
    /// </summary>
    public WorkItem? EndedRest { get; private init; }

    /// <summary>True when the longest wait after the last step is over and the piece waits on.</summary>
    private bool IsWaitOver { get; init; }

    /// <summary>Reads it.</summary>
    public static PastWork Of(Piece piece, ShopSnapshot shop)
    {
        var closed = piece.Items.OrderBy(i => i.Number).TakeWhile(i => i.IsClosed).ToList();
        if (closed.Count == 0)
            return new PastWork(0, 0, null);
        var last = closed[^1];
        var running = piece.Current is { State: WorkState.Running } item && !item.Kind.NeedsHands() ? item : null;
        if (running is null && last.Kind.IsRest() && closed.Count > 1 && shop.Stations.Any(s => s.Kind == StationKind.Rack))
            return new PastWork(closed.Count, closed.Count - 1, DayRunning.Begun(last, shop)) { EndedRest = last };
        // What is in the oven or the press joins what was before it.
        var begun = running is null ? 0 : DayRunning.Begun(running, shop);
        var ended = Math.Min(begun, shop.Seconds(last.FinishedAt ?? shop.Now));
        var isOver = ended + (last.Settings.MaxWaitSeconds ?? int.MaxValue / 2) < begun;
        return new PastWork(closed.Count, closed.Count, last.Kind.IsRest() || (isOver && running is not null) ? begun : ended)
        {
            IsWaitOver = isOver && running is null,
        };
    }

    /// <summary>A step of the piece without the limits that nothing can keep any more.</summary>
    /// <param name="number">The step's number.</param>
    /// <param name="step">As its recipe wants it.</param>
    public Plan.Step Loosened(int number, Plan.Step step) =>
        number == EndedRest?.Number ? step with { MinS = Math.Min(step.MinS, -LastEnd!.Value), MaxS = null }
        : number == Done && IsWaitOver ? step with { MaxWaitS = Ever }
        : step;
}
