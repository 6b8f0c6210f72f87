using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Office.Plans;

/// <summary>Lays the tasks of a plan out in rows: people first, then stations.</summary>
public static class TimelineRows
{
    /// <summary>Tasks shorter than this share of the picture are drawn together with their neighbours, or nobody could read them.</summary>
    private const int ShortestShare = 80;

    /// <summary>Tasks drawn together span at most this many times the shortest.</summary>
    private const int LongestBlock = 6;

    /// <summary>Tasks that are drawn together leave at most this between them, seconds.</summary>
    private const int LargestGap = 180;

    /// <summary>The rows of a stretch of the plan.</summary>
    /// <param name="day">The day.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="axis">The hours shown.</param>
    /// <param name="words">Names.</param>
    public static IReadOnlyList<TimelineRow> Of(Day day, Plan plan, TimelineAxis axis, PlanWords words)
    {
        var (from, to) = (axis.From, axis.To);
        var members = plan.Batches.ToDictionary(b => b.Id, b => b.Places.Count, StringComparer.Ordinal);
        var running = day.Running.Tasks.Select(t => (t.Kind, t.Station, t.StartS)).ToHashSet();
        var seen = plan.Tasks.Where(t => t.StartS < to && (t.EndS ?? t.StartS) > from).ToArray();
        TimelineBar Bar(PlanTask t) =>
            new(t.Kind, Text(t, members), t.StartS, t.EndS ?? t.StartS, 0, running.Contains((t.Kind, t.Station, t.StartS))) { Tasks = [t] };
        TimelineRow Of(string code, Func<PlanTask, bool> own, IReadOnlyList<(int, int)> away) =>
            Row(words.Name(code), [.. seen.Where(own).Select(Bar)], away, axis.OpenS / ShortestShare);
        var people = day.People.Select(p => Of(p.Id, t => t.Person == p.Id, Outside(p, from, to)));
        var stations = day.Stations.Select(s =>
            s.Kind == StationKind.Rack
                ? Rack(words.Name(s.Id), seen.Where(t => t.Station == s.Id))
                : Of(s.Id, t => t.Station == s.Id, [.. s.Down.Select(d => (d.FromS, d.ToS))])
        );
        return [.. people, .. stations];
    }

    private static string Text(PlanTask task, Dictionary<string, int> members) =>
        task switch
        {
            { Kind: TaskKinds.SetPoint } => string.Create(CultureInfo.InvariantCulture, $"{task.ToTenthsC / 10m:0.#} °C"),
            { Piece: { } piece } => piece,
            { Batch: { } batch } => members.TryGetValue(batch, out var n) && n > 0
                ? string.Create(CultureInfo.InvariantCulture, $"{PlannedName.Of(batch)} ({n})")
                : PlannedName.Of(batch),
            _ => task.Kind,
        };

    private static TimelineRow Row(string name, IReadOnlyList<TimelineBar> bars, IReadOnlyList<(int From, int To)> away, int shortest)
    {
        var ends = new List<int>();
        var laid = new List<TimelineBar>();
        foreach (var bar in bars.GroupBy(WhoseRow).SelectMany(own => Together(own, shortest)).OrderBy(b => b.From).ThenBy(b => b.To))
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
        return new TimelineRow(name, Math.Max(1, ends.Count), laid, away, []);
    }

    // Two people side by side at a bench would part every row of short tasks: each one's are drawn together.
    private static string? WhoseRow(TimelineBar bar) => bar.Tasks[0].Person;

    // Short tasks that follow each other become one bar that says how many there are of each kind.
    private static IEnumerable<TimelineBar> Together(IEnumerable<TimelineBar> bars, int shortest)
    {
        var block = new List<TimelineBar>();
        foreach (var bar in bars.OrderBy(b => b.From).ThenBy(b => b.To).ThenBy(b => b.Text, StringComparer.Ordinal))
        {
            var joins = block.Count > 0 && Joins(block[^1], bar, shortest) && bar.To - block[0].From < LongestBlock * shortest;
            if (block.Count > 0 && !joins)
            {
                yield return One(block);
                block = [];
            }
            block.Add(bar);
        }
        if (block.Count > 0)
            yield return One(block);
    }

    private static bool Joins(TimelineBar last, TimelineBar next, int shortest) =>
        last.IsRunning == next.IsRunning
        && last.To - last.From < shortest
        && next.To - next.From < shortest
        && next.From >= last.To
        && next.From - last.To <= LargestGap;

    private static TimelineBar One(List<TimelineBar> block)
    {
        if (block.Count == 1)
            return block[0];
        var kinds = block.GroupBy(b => b.Kind).Select(g => g.Count() == 1 ? g.Key : $"{g.Key} ×{g.Count()}").ToArray();
        var kind = block.Select(b => b.Kind).Distinct().Count() == 1 ? block[0].Kind : "several";
        return block[0] with
        {
            Kind = kind,
            Text = string.Join(", ", kinds),
            To = block[^1].To,
            Tasks = [.. block.SelectMany(b => b.Tasks)],
        };
    }

    // How many pieces rest at once says more of a rack than a bar for each of them.
    private static TimelineRow Rack(string name, IEnumerable<PlanTask> rests)
    {
        var changes = new SortedDictionary<int, int>();
        foreach (var rest in rests)
        {
            changes[rest.StartS] = changes.GetValueOrDefault(rest.StartS) + 1;
            changes[rest.EndS ?? rest.StartS] = changes.GetValueOrDefault(rest.EndS ?? rest.StartS) - 1;
        }
        var waiting = new List<(int From, int To, int Pieces)>();
        var (at, pieces) = (0, 0);
        foreach (var (second, change) in changes)
        {
            if (pieces > 0 && second > at)
                waiting.Add((at, second, pieces));
            (at, pieces) = (second, pieces + change);
        }
        return new TimelineRow(name, 2, [], [], waiting);
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
