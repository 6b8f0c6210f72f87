namespace ShopFloor.Planning.Exchange;

/// <summary>Whether running work says all that a plan must know of it: what each task belongs to, and where each batch is.</summary>
internal static class RunningWhole
{
    /// <summary>What a task lacks, or names that it must not.</summary>
    public static IEnumerable<(string Field, string Reason)> Wrong(PlanTask task, Station? station, Batch? batch)
    {
        var (ofBatch, ofPiece) = (BatchOf(task.Kind) is not null, TaskKinds.StepOf(task.Kind) is not (null or StepKind.Press));
        if (ofBatch && task.Batch is null)
            yield return ("batch", $"a running {task.Kind} names its batch");
        if (ofPiece && task.Piece is null)
            yield return ("piece", $"a running {task.Kind} names its piece");
        if (task.Kind == TaskKinds.SetPoint && (task.FromTenthsC is null || task.ToTenthsC is null))
            yield return ("to_c", "a running set point says from what to what it changes");
        if (batch is not null && BatchOf(task.Kind) != batch.Kind)
            yield return ("batch", $"a running {task.Kind} does not belong to the {batch.Kind} {batch.Id}");
        if (ofBatch && station is not null && station.Kind != PlaceOf(BatchOf(task.Kind)!))
            yield return ("station", $"{task.Kind} is not done at {station.Id}");
    }

    /// <summary>What a batch lacks among the running tasks, or null.</summary>
    public static (string Field, string Reason)? Wrong(Batch batch, IEnumerable<PlanTask> tasks)
    {
        var own = tasks.Where(t => t.Batch == batch.Id).ToList();
        if (own.Count == 0)
            return ("id", $"the running {batch.Kind} {batch.Id} has no task among running.tasks");
        if (batch.Kind != BatchKinds.Round && batch.Places.Count == 0)
            return ("places", $"the running {batch.Kind} {batch.Id} has nothing in it");
        if (batch.Kind != BatchKinds.Round && own.GroupBy(t => t.Kind).FirstOrDefault(g => g.Count() > 1) is { } twice)
            return ("id", $"the running {batch.Kind} {batch.Id} has {twice.Count()} tasks {twice.Key}");
        return own.DistinctBy(t => t.Station).Count() > 1 ? ("id", $"the running {batch.Kind} {batch.Id} is at two stations") : null;
    }

    private static string? BatchOf(string kind) =>
        kind switch
        {
            TaskKinds.Shake or TaskKinds.Spray => BatchKinds.Round,
            TaskKinds.Load or TaskKinds.Dwell or TaskKinds.Unload => BatchKinds.Load,
            TaskKinds.Press => BatchKinds.Session,
            _ => null,
        };

    private static StationKind PlaceOf(string batch) =>
        batch switch
        {
            BatchKinds.Round => StationKind.Booth,
            BatchKinds.Load => StationKind.Oven,
            _ => StationKind.Press,
        };
}
