using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.TestPieces;
using Piece = ShopFloor.Domain.Pieces.Piece;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>Now and next by the plan: for each person, and for each oven, booth and press.</summary>
internal sealed class PlannedRows(WorkNow now, ReadPlan plan, DateTimeOffset at, IReadOnlyCollection<string> stations)
{
    // A plan has thousands of tasks, and each asks for its piece.
    private readonly Dictionary<string, Piece> work = now.Work.Pieces.ToDictionary(p => p.Code, StringComparer.Ordinal);
    private readonly Dictionary<string, string> names = new(StringComparer.Ordinal);
    private readonly IReadOnlySet<string> untested = TestFirst.Waiting(now.Work);
    private readonly IReadOnlySet<string> waiting = PlannedBatches.Waiting(now, plan);
    private readonly HashSet<string> running =
    [
        .. plan.Day.Running.Tasks.Where(t => t is { Person: not null, Batch: not null }).Select(t => t.Batch!),
    ];

    // Only such as the Bench knows by a code: a step that was begun without a batch has a made-up one.
    private readonly HashSet<string> given =
    [
        .. plan.Day.Running.Batches.Where(b => b.Places.All(p => b.Id != $"L-{p.Piece}" && b.Id != $"S-{p.Piece}")).Select(b => b.Id),
    ];

    /// <summary>What cannot be used comes first: whoever plans their next step must know.</summary>
    internal IReadOnlyList<NowNext> All()
    {
        var shown = Stations().ToList();
        return [.. shown.Where(r => r.IsDown), .. People(), .. Others(), .. shown.Where(r => !r.IsDown)];
    }

    private IEnumerable<NowNext> People()
    {
        foreach (var person in plan.Day.People.OrderBy(p => p.Id, StringComparer.Ordinal))
        {
            var tasks = plan.Plan.Tasks.Where(t => Doer(t) == person.Id && WallTimers.IsShown(t.Station, stations)).ToList();
            if (Row(now.Names.Name(person.Id), tasks) is { } row)
                yield return row.Now == Free && ComesAt(person) is { } from ? row with { Now = "here from", NowAt = from } : row;
        }
    }

    /// <summary>When somebody who is not there now begins the next shift; null: is there, or comes no more in this plan.</summary>
    private WallMoment? ComesAt(Person person)
    {
        bool IsOver(int second) => plan.Instant(second) <= at;
        if (person.Shifts.Any(s => IsOver(s.FromS) && !IsOver(s.ToS)))
            return null;
        return person.Shifts.Where(s => !IsOver(s.FromS)).Select(s => (int?)s.FromS).Min() is { } from ? Moment(plan.Instant(from)) : null;
    }

    // Who has started something and is no person of the plan is named all the same, rather than somebody else in their place.
    private IEnumerable<NowNext> Others() =>
        plan
            .Plan.Tasks.Where(t => IsRunning(t) && WallTimers.IsShown(t.Station, stations))
            .Where(t => Started(t.Batch!) is { Person: null })
            .GroupBy(t => Started(t.Batch!)!.Name, StringComparer.Ordinal)
            .Select(g => Row(g.Key, [.. g]))
            .OfType<NowNext>();

    private IEnumerable<NowNext> Stations()
    {
        var shown = plan.Day.Stations.Where(s => s is Booth or Oven or Press && WallTimers.IsShown(s.Id, stations)).Select(s => s.Id);
        foreach (var id in shown.Order(StringComparer.Ordinal))
        {
            var tasks = plan.Plan.Tasks.Where(t => t.Station == id).ToList();
            // What really runs goes before what the plan has there now.
            var runs = now.Work.Batches.FirstOrDefault(b => b.State == BatchState.Running && now.Work.Stations[b.Station].Code == id);
            if (runs is not null)
                tasks = [.. tasks.Where(t => t.Batch == runs.Code || plan.Instant(t.StartS) > at)];
            var row = Row(now.Names.Name(id), tasks, runs is null ? null : WallTimers.What(now.Work, runs));
            if (runs is null && DownUntil(id) is { } until)
                yield return (row ?? new NowNext(now.Names.Name(id), "", "", null)) with
                {
                    Now = "cannot be used until",
                    NowAt = Moment(until),
                    IsDown = true,
                };
            else if (row is not null)
                yield return row;
        }
    }

    private DateTimeOffset? DownUntil(string id) =>
        now.Work.Stations.Values.Where(s => s.Code == id && s.DownUntil > at).Max(s => s.DownUntil);

    private WallMoment Moment(DateTimeOffset time) => WallMoment.Of(time, at, now.Work.Settings);

    private const string Free = "free";

    // The plan needs a name for what runs already; the truth is who started it.
    private string? Doer(PlanTask task) => IsRunning(task) ? Started(task.Batch!)?.Person : task.Person;

    private bool IsRunning(PlanTask task) =>
        task is { Person: not null, Batch: { } batch, Kind: TaskKinds.Load or TaskKinds.Press } && running.Contains(batch);

    private Starter? Started(string batch) =>
        plan
            .Day.Running.Batches.Where(b => b.Id == batch)
            .SelectMany(b => b.Places)
            .Select(p => work.TryGetValue(p.Piece, out var piece) ? now.Starters.GetValueOrDefault(piece.Id) : null)
            .FirstOrDefault(s => s is not null);

    // The plan says what comes; what really goes on comes from the Bench, so a plan that lags never shows work that is done.
    private NowNext? Row(string who, IReadOnlyList<PlanTask> tasks, string? runs = null)
    {
        var open = tasks.Where(t => !IsDone(t) && !(t.Batch is { } batch && waiting.Contains(batch))).OrderBy(t => t.StartS).ToList();
        var current = open.Find(t => plan.Instant(t.StartS) <= at && (t.EndS is not { } end || plan.Instant(end) > at));
        var next = open.Find(t => t != current && plan.Instant(t.StartS) > at && !IsSame(t, current));
        if (current is null && next is null && runs is null)
            return null;
        return new NowNext(
            who,
            current is null ? runs ?? Free : Words(current),
            next is null ? "" : Words(next),
            next is null ? null : Moment(plan.Instant(next.StartS))
        );
    }

    // Piece after piece of a tray is one thing to do: what comes next is something else.
    private bool IsSame(PlanTask a, PlanTask? b) => b is not null && a.Kind == b.Kind && Words(a) == Words(b);

    private bool IsDone(PlanTask task) =>
        IsBatchOver(task)
        || task is { Piece: { } code, Step: { } step }
            && (!work.TryGetValue(code, out var piece) || piece.Items.Any(i => i.Number == step && i.IsClosed));

    // What the plan saw running and was ended or stopped since is over, whatever the plan says of it.
    private bool IsBatchOver(PlanTask task) =>
        task.Batch is { } code && given.Contains(code) && !now.Work.Batches.Any(b => b.Code == code && b.State == BatchState.Running);

    // Thousands of tasks are of few batches.
    private string NameOf(string batch)
    {
        if (!names.TryGetValue(batch, out var name))
            names[batch] = name = PlannedBatches.NameOf(plan, batch, now.Work);
        return name;
    }

    private string Words(PlanTask task)
    {
        if (task.Kind == TaskKinds.SetPoint)
            return Dial(task);
        var what = task.Batch is { } batch ? NameOf(batch) : work.GetValueOrDefault(task.Piece ?? "")?.Tray ?? task.Piece ?? "";
        var coating =
            task.Kind is TaskKinds.Spray or TaskKinds.Shake && task.Batch is { } round
                ? plan.Plan.Batches.FirstOrDefault(b => b.Id == round)?.Coating
                : null;
        if (task.Piece is { } piece && untested.Contains(piece))
            return $"Test piece first: {what}";
        var word = PlanWords.Verb(task.Kind);
        var verb = char.ToUpperInvariant(word[0]) + word[1..];
        return $"{verb} {what}".TrimEnd() + (coating is null ? "" : $", {now.Names.Name(coating)}");
    }

    // An oven and a press are switched on by somebody, in time.
    private string Dial(PlanTask task) =>
        task.ToTenthsC is { } to && to != plan.Day.RoomTenthsC
            ? $"Set the dial to {PlanWords.Dial(plan.Day, task.Station, to)}"
            : "Switch off";
}
