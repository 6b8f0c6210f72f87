using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>The set point of one oven or press over time: held values and the changes between them.</summary>
internal sealed record SetPointLine(int FirstTenthsC, IReadOnlyList<Entry> Changes)
{
    public static SetPointLine Of(Sheet sheet, HeatedStation station)
    {
        var changes = sheet
            .Entries.Where(e => e.Task.Kind == TaskKinds.SetPoint && e.Task.Station == station.Id && e.Task.ToTenthsC is not null)
            .OrderBy(e => e.Start)
            .ToList();
        // What a change that already runs at second 0 started from is given with it.
        var first = changes.Count > 0 && changes[0].IsRunning ? changes[0].Task.FromTenthsC : station.Heat.NowTenthsC;
        return new SetPointLine(first ?? station.Heat.NowTenthsC, changes);
    }

    /// <summary>What is held just before an instant.</summary>
    public int Before(int second, Entry? except = null) =>
        Changes.Where(c => !ReferenceEquals(c, except) && c.Start < second).MaxBy(c => c.Start)?.Task.ToTenthsC ?? FirstTenthsC;

    /// <summary>The spans in which the station is hot, held or in a change with either end above the limit.</summary>
    public IEnumerable<Span> Hot(int aboveTenthsC)
    {
        var (held, since) = (FirstTenthsC, int.MinValue);
        foreach (var change in Changes)
        {
            if (held > aboveTenthsC && since < change.Start)
                yield return new Span(since, change.Start);
            if (change.Task.FromTenthsC > aboveTenthsC || change.Task.ToTenthsC > aboveTenthsC)
                yield return new Span(change.Start, change.End);
            (held, since) = (change.Task.ToTenthsC!.Value, change.End);
        }
        if (held > aboveTenthsC)
            yield return new Span(since, int.MaxValue);
    }
}

/// <summary>A change starts from what the station has and takes its time; a batch starts at its own temperature.</summary>
internal static class SetPointRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var station in sheet.Day.Stations.OfType<HeatedStation>())
        {
            var line = SetPointLine.Of(sheet, station);
            foreach (var change in line.Changes)
                Change(sheet, station, line, change);
            foreach (var batch in sheet.Batches)
                Start(sheet, station, line, batch);
        }
    }

    private static void Change(Sheet sheet, HeatedStation station, SetPointLine line, Entry change)
    {
        if (change.IsRunning)
            return;
        var (from, to) = (change.Task.FromTenthsC ?? 0, change.Task.ToTenthsC!.Value);
        var held = line.Before(change.Start, change);
        if (held != from)
            sheet.Report(
                "set-point-wrong",
                $"{station.Id} is at {C(held)}, the change starts from {C(from)}",
                Math.Abs(held - from),
                change
            );
        // 60·Δ/rate with Δ in tenths and the rate in thousandths of a degree per minute.
        var rate = to > from ? station.Heat.HeatingMilliCPerMin : station.Heat.CoolingMilliCPerMin;
        var needed = ((6000L * Math.Abs(to - from)) + rate - 1) / rate;
        if (change.Length < needed)
            sheet.Report("set-point-too-fast", $"{station.Id} needs {needed} s for this change", needed - change.Length, change);
    }

    private static void Start(Sheet sheet, HeatedStation station, SetPointLine line, BatchEntry batch)
    {
        if (batch.IsRunning || batch.Batch.TenthsC is not { } wanted)
            return;
        var first = batch.Tasks.FirstOrDefault(t => t.Task.Kind is TaskKinds.Load or TaskKinds.Press);
        if (first is null || first.Task.Station != station.Id)
            return;
        var held = line.Before(first.Start);
        var during = line.Changes.Any(c => c.Start <= first.Start && first.Start < c.End);
        if (held != wanted || during)
            sheet.Report(
                "set-point-wrong",
                $"{batch.Batch.Id} wants {C(wanted)}, {station.Id} is {(during ? "still changing" : "at " + C(held))}",
                Math.Abs(held - wanted),
                first
            );
    }

    private static string C(int tenths) => string.Create(CultureInfo.InvariantCulture, $"{tenths / 10m} °C");
}
