using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Reports;

/// <summary>Where and when a plan does one step of one piece.</summary>
/// <param name="Station">Where.</param>
/// <param name="Person">Who begins it; null when nobody is needed.</param>
/// <param name="StartS">First second: of a load the start of loading, of a session of laying up.</param>
/// <param name="EndS">First second after it: of a load the end of unloading.</param>
/// <param name="Batch">The load, session or round it is done in; null when it is done alone.</param>
public sealed record StepTime(string Station, string? Person, int StartS, int EndS, string? Batch);

/// <summary>Finds the times of all planned steps.</summary>
public static class StepTimes
{
    /// <summary>By piece and step; rests included. A task whose end is open counts as ending where it starts.</summary>
    /// <param name="plan">A plan that breaks no rule.</param>
    public static IReadOnlyDictionary<(string Piece, int Step), StepTime> Of(Plan plan)
    {
        var times = new Dictionary<(string, int), StepTime>();
        foreach (var task in plan.Tasks)
            if (task is { Piece: { } piece, Step: { } step })
                times[(piece, step)] = new StepTime(task.Station, task.Person, task.StartS, task.EndS ?? task.StartS, task.Batch);
        var tasks = plan.Tasks.Where(t => t is { Batch: not null, Piece: null }).ToLookup(t => t.Batch!, StringComparer.Ordinal);
        foreach (var batch in plan.Batches.Where(b => b.Places.Count > 0 && tasks[b.Id].Any()))
        {
            var first = tasks[batch.Id].MinBy(t => t.StartS)!;
            var whole = new StepTime(first.Station, first.Person, first.StartS, tasks[batch.Id].Max(t => t.EndS ?? t.StartS), batch.Id);
            foreach (var place in batch.Places)
                times[(place.Piece, place.Step)] = whole;
        }
        return times;
    }
}
