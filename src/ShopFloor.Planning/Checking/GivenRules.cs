using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>What was given: running work stays, pins hold or are owned up to.</summary>
internal static class GivenRules
{
    public static void Check(Sheet sheet)
    {
        RunningTasks(sheet);
        RunningBatches(sheet);
        var unmet = sheet.Plan.UnmetPins.Select(u => (u.Piece, u.Step)).ToHashSet();
        foreach (var piece in sheet.Day.Pieces.Where(p => !sheet.LeftOut.Contains(p.Id)))
        foreach (var pin in piece.Pins.Where(p => p.Step > piece.Done && !unmet.Contains((piece.Id, p.Step))))
            Pinned(sheet, piece, pin);
    }

    private static void RunningTasks(Sheet sheet)
    {
        var kept = sheet.Entries.Where(e => e.IsRunning).Select(e => e.Given!).ToHashSet(ReferenceEqualityComparer.Instance);
        foreach (var task in sheet.Day.Running.Tasks.Where(t => !kept.Contains(t)))
            sheet.Report(
                "running-moved",
                $"the {task.Kind} that began at {task.StartS} at {task.Station} is not in the plan as it runs",
                0,
                null,
                task.Piece is { } piece ? [piece] : [],
                task.Batch is { } batch ? [batch] : []
            );
    }

    private static void RunningBatches(Sheet sheet)
    {
        foreach (var given in sheet.Day.Running.Batches)
        {
            var planned = sheet.Plan.Batches.FirstOrDefault(b => b.Id == given.Id);
            if (planned is null || planned with { Places = given.Places } != given || !SamePlaces(planned, given))
                sheet.Report("running-moved", $"the running batch {given.Id} is changed", 0, null, null, [given.Id]);
        }
    }

    private static bool SamePlaces(Batch one, Batch other) =>
        one.Places.Count == other.Places.Count && one.Places.ToHashSet().SetEquals(other.Places);

    private static void Pinned(Sheet sheet, Piece piece, Pin pin)
    {
        if (sheet.Span(piece.Id, pin.Step) is not { } span)
            return;
        void Broken(string text, long amount = 0) =>
            sheet.Report("pin-broken", $"{piece.Id} step {pin.Step} {text}", amount, span.Tasks, [piece.Id]);
        if (pin.NotBeforeS is { } notBefore && span.Start < notBefore)
            Broken($"must not start before {notBefore}", notBefore - span.Start);
        if (pin.AtS is { } at && span.Start != at)
            Broken($"must start at {at}", Math.Abs(at - span.Start));
        if (pin.Station is { } station && span.Station != station)
            Broken($"must be done at {station}");
        if (pin.With is { } with && !IsWith(sheet, span, with))
            Broken($"must share its batch with {with}");
    }

    private static bool IsWith(Sheet sheet, StepSpan span, string with)
    {
        if (span.Batch is not { } batch)
            return false;
        var entry = sheet.Batches.FirstOrDefault(b => b.Batch.Id == batch);
        return entry is not null && (entry.Batch.Places.Any(p => p.Piece == with) || entry.Tasks.Any(t => t.Task.Piece == with));
    }
}
