using ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Office.Plans;

/// <summary>Lays the tasks of a plan out in rows: people first, then stations.</summary>
public static class TimelineRows
{
    /// <summary>The rows of a stretch of the plan.</summary>
    /// <param name="day">The day.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="from">First second shown.</param>
    /// <param name="to">First second no longer shown.</param>
    public static IReadOnlyList<TimelineRow> Of(Day day, Plan plan, int from, int to)
    {
        var members = plan.Batches.ToDictionary(b => b.Id, b => b.Places.Count, StringComparer.Ordinal);
        var running = day.Running.Tasks.Select(t => (t.Kind, t.Station, t.StartS)).ToHashSet();
        bool Seen(PlanTask t) => t.StartS < to && (t.EndS ?? t.StartS) > from;
        TimelineBar Bar(PlanTask t) =>
            new(t.Kind, Text(t, members), t.StartS, t.EndS ?? t.StartS, 0, running.Contains((t.Kind, t.Station, t.StartS)));
        var people = day.People.Select(p =>
            Row(p.Id, true, plan.Tasks.Where(t => t.Person == p.Id && Seen(t)).Select(Bar), Outside(p, from, to))
        );
        var stations = day.Stations.Select(s =>
            Row(s.Id, false, plan.Tasks.Where(t => t.Station == s.Id && Seen(t)).Select(Bar), [.. s.Down.Select(d => (d.FromS, d.ToS))])
        );
        return [.. people, .. stations];
    }

    private static string Text(PlanTask task, Dictionary<string, int> members) =>
        task switch
        {
            { Kind: TaskKinds.SetPoint } => string.Create(CultureInfo.InvariantCulture, $"{task.ToTenthsC / 10m:0.#} °C"),
            { Piece: { } piece } => piece,
            { Batch: { } batch } => members.TryGetValue(batch, out var n) && n > 0
                ? string.Create(CultureInfo.InvariantCulture, $"{batch} ({n})")
                : batch,
            _ => task.Kind,
        };

    private static TimelineRow Row(string name, bool person, IEnumerable<TimelineBar> bars, IReadOnlyList<(int From, int To)> away)
    {
        var ends = new List<int>();
        var laid = new List<TimelineBar>();
        foreach (var bar in bars.OrderBy(b => b.From).ThenBy(b => b.To).ThenBy(b => b.Text, StringComparer.Ordinal))
        {
            var lane = ends.FindIndex(e => e <= bar.From);
            if (lane < 0)
            {
                lane = ends.Count;
                ends.Add(0);
            }
            ends[lane] = bar.To;
            laid.Add(bar with { Lane = lane });
        }
        return new TimelineRow(name, person, Math.Max(1, ends.Count), laid, away);
    }

    private static List<(int From, int To)> Outside(Person person, int from, int to)
    {
        var gaps = new List<(int, int)>();
        var at = from;
        foreach (var shift in person.Shifts.Where(s => s.ToS > from && s.FromS < to))
        {
            if (shift.FromS > at)
                gaps.Add((at, shift.FromS));
            at = Math.Max(at, shift.ToS);
        }
        if (at < to)
            gaps.Add((at, to));
        return gaps;
    }
}
