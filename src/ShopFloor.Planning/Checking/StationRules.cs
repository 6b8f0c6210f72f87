using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Stations: the right kind, one task at a time, not while down, racks not too full, no spray beside a hot oven.</summary>
internal static class StationRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var e in sheet.Entries)
            Kind(sheet, e);
        foreach (var group in sheet.Entries.Where(e => e.Station is not null).GroupBy(e => e.Station!.Id, StringComparer.Ordinal))
        {
            var entries = group.OrderBy(e => e.Start).ThenBy(e => e.End).ToList();
            var station = entries[0].Station!;
            foreach (var e in entries.Where(e => !e.IsRunning || (e.Given!.EndS is null && e.Task.Kind == TaskKinds.Rest)))
                Down(sheet, station, e);
            if (station is Rack rack)
                RackFull(sheet, rack, entries);
            else
                Busy(sheet, Claims(station, entries), station is Bench bench ? bench.Places : 1);
            if (station is Oven)
                BusyWithin(sheet, entries);
            if (station is Booth booth)
                Hot(sheet, booth, entries);
        }
    }

    private static void Kind(Sheet sheet, Entry e)
    {
        StationKind? wanted = e.Task.Kind switch
        {
            TaskKinds.Shake => StationKind.Booth,
            TaskKinds.Load or TaskKinds.Dwell or TaskKinds.Unload => StationKind.Oven,
            TaskKinds.SetPoint => e.Station is HeatedStation ? e.Station.Kind : StationKind.Oven,
            _ => TaskKinds.StepOf(e.Task.Kind) is { } kind ? new Step(kind).Station : null,
        };
        if (e.Station is { } station && wanted is { } right && station.Kind != right)
            sheet.Report("station-wrong", $"{e.Task.Kind} is not done at {station.Id}", 0, e);
    }

    private static void Down(Sheet sheet, Station station, Entry e)
    {
        if (e.IsRunning)
            return;
        foreach (var span in station.Down)
            if (e.Overlaps(span.FromS, span.ToS))
                sheet.Report(
                    "station-down",
                    $"{station.Id} cannot be used from {span.FromS} to {span.ToS}",
                    Math.Min(e.End, span.ToS) - (long)Math.Max(e.Start, span.FromS),
                    e
                );
    }

    private sealed record Claim(int Start, int End, Entry First);

    /// <summary>An oven is taken from the start of a load to the end of its unload; everything else by its tasks.</summary>
    private static List<Claim> Claims(Station station, List<Entry> entries)
    {
        bool IsLoads(Entry e) => station is Oven && e.Task.Batch is not null;
        var claims = entries.Where(e => !IsLoads(e)).Select(e => new Claim(e.Start, e.End, e));
        var loads = entries
            .Where(IsLoads)
            .GroupBy(e => e.Task.Batch, StringComparer.Ordinal)
            .Select(g => new Claim(g.Min(e => e.Start), g.Max(e => e.End), g.First()));
        return [.. claims.Concat(loads).OrderBy(c => c.Start).ThenBy(c => c.End)];
    }

    private static void Busy(Sheet sheet, List<Claim> claims, int? places)
    {
        if (places is not { } most)
            return;
        var open = new List<Claim>();
        foreach (var claim in claims)
        {
            open.RemoveAll(c => c.End <= claim.Start);
            open.Add(claim);
            if (open.Count > most)
                sheet.Report(
                    "station-busy",
                    $"{claim.First.Task.Station} holds {open.Count} tasks at once, {most} allowed",
                    open.Count - most,
                    [.. open.Select(c => c.First)]
                );
        }
    }

    /// <summary>The tasks of one load are one after the other.</summary>
    private static void BusyWithin(Sheet sheet, List<Entry> entries)
    {
        foreach (var load in entries.Where(e => e.Task.Batch is not null).GroupBy(e => e.Task.Batch, StringComparer.Ordinal))
        foreach (var (before, next) in load.Zip(load.Skip(1)))
            if (next.Overlaps(before.Start, before.End))
                sheet.Report(
                    "station-busy",
                    $"{before.Task.Station} holds two tasks of {load.Key} at once",
                    before.End - next.Start,
                    before,
                    next
                );
    }

    private static void RackFull(Sheet sheet, Rack rack, List<Entry> rests)
    {
        var open = new List<Entry>();
        foreach (var rest in rests)
        {
            open.RemoveAll(r => r.End <= rest.Start);
            open.Add(rest);
            var taken = open.Sum(r => r.Piece is { } p ? (p.WidthUm + (long)rack.GapUm) * (p.DepthUm + (long)rack.GapUm) : 0);
            if (taken > rack.AreaUm2)
                sheet.Report("rack-full", $"{rack.Id} is too full at second {rest.Start}", taken - rack.AreaUm2, [.. open]);
        }
    }

    private static void Hot(Sheet sheet, Booth booth, List<Entry> entries)
    {
        foreach (var id in booth.SharesAirWith)
            if (sheet.Stations.GetValueOrDefault(id) is Oven oven)
            {
                var hot = SetPointLine.Of(sheet, oven).Hot(oven.HotAboveTenthsC).ToList();
                foreach (var e in entries.Where(e => e.Task.Kind is TaskKinds.Shake or TaskKinds.Spray))
                    if (hot.Exists(h => Math.Max(e.Start, 0) < h.ToS && h.FromS < e.End))
                        sheet.Report("oven-hot", $"{id} is hot while somebody works in {booth.Id}", 0, e);
            }
    }
}
