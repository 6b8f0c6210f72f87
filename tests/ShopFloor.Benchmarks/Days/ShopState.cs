using ShopFloor.Planning.Exchange;

namespace ShopFloor.Benchmarks.Days;

/// <summary>A task as it really happened, in seconds from the first day's zero.</summary>
internal sealed record Executed(PlanTask Task, Batch? Batch, int Start, int End);

/// <summary>What is true in the simulated workshop: where each piece stands, what runs, what ovens hold, what cans have left.</summary>
internal sealed class ShopState(Day origin)
{
    private sealed class Standing
    {
        public required Piece Piece { get; init; }

        public int Done { get; set; }

        public int LastEnd { get; set; }
    }

    private readonly Dictionary<string, Standing> pieces = origin.Pieces.ToDictionary(
        p => p.Id,
        p => new Standing { Piece = p },
        StringComparer.Ordinal
    );
    private readonly Dictionary<string, int> held = origin
        .Stations.OfType<HeatedStation>()
        .ToDictionary(s => s.Id, s => s.Heat.NowTenthsC, StringComparer.Ordinal);
    private readonly Dictionary<(string, string), int> left = origin
        .Coatings.SelectMany(c => c.Cans.Select(k => (Key: (c.Id, k.Id), k.LeftUl)))
        .ToDictionary(x => x.Key, x => x.LeftUl);
    private readonly Dictionary<string, int> faultAt = new(StringComparer.Ordinal);
    private List<Executed> running = [];
    private int named;

    public List<string> Open() => [.. pieces.Values.Where(s => s.Done < s.Piece.Route.Count).Select(s => s.Piece.Id)];

    public int? FinishedAt(string piece) => pieces[piece] is var s && s.Done == s.Piece.Route.Count ? s.LastEnd : null;

    /// <summary>A fault found at the end of an inspection.</summary>
    public void Fault(string piece, int at) => faultAt[piece] = at;

    /// <summary>Whether the inspection that runs will find a fault.</summary>
    public bool IsFaulty(string piece) => faultAt.ContainsKey(piece);

    /// <summary>The piece begins again where it is wiped; it has been sanded back by then.</summary>
    public void BeginAgain(string id, int now)
    {
        var s = pieces[id];
        s.Done = s.Piece.Route.Select((step, i) => (step, i)).First(x => x.step.Kind == StepKind.Wipe).i;
        s.LastEnd = now;
    }

    /// <summary>Whether the piece is in a wait that has a longest time, and whether that is over.</summary>
    public bool IsWaitingWithin(string id, int now, out bool past)
    {
        past = Limit(pieces[id]) is { } limit && now > limit;
        return Limit(pieces[id]) is not null;
    }

    /// <summary>The next moment after now at which a longest wait is over.</summary>
    public int? NextLimit(int now)
    {
        var next = pieces.Values.Select(Limit).Where(l => l >= now).Min();
        return next + 1;
    }

    private int? Limit(Standing s)
    {
        if (s.Done == 0 || s.Done >= s.Piece.Route.Count || IsIn(s))
            return null;
        var next = s.Piece.Route[s.Done];
        var wait = next.Kind == StepKind.Rest ? next.MaxS : s.Piece.Route[s.Done - 1].MaxWaitS;
        return wait is { } most ? s.LastEnd + most : null;
    }

    private bool IsIn(Standing s) =>
        running.Exists(e => e.Task.Piece == s.Piece.Id || (e.Batch?.Places.Any(p => p.Piece == s.Piece.Id) ?? false));

    /// <summary>A task of the plan that had begun before it: with its true end.</summary>
    public Executed? Known(PlanTask task, int now) =>
        running.Find(e =>
            e.Task.Kind == task.Kind && e.Task.Station == task.Station && e.Start == now + task.StartS && e.Task.Piece == task.Piece
        )
            is { } found
            ? found with
            {
                Task = task,
                End = found.Task.Kind == TaskKinds.Dwell ? Math.Max(now + (task.EndS ?? 0), found.Start + 1) : found.End,
            }
            : null;

    /// <summary>When what must come before a task is over: the step before with its rest, the load before the dwell, the heating.</summary>
    public int ReadyAt(PlanTask task, Dictionary<string, Batch> batches, List<Executed> executed)
    {
        if (task is { Piece: { } id, Step: { } step })
            return Math.Max(ReadyAt(id, step, executed), task.Batch is { } round ? EndOf(round, TaskKinds.Shake, executed) : 0);
        if (task.Batch is not { } batch)
            return 0;
        return task.Kind switch
        {
            TaskKinds.Dwell => EndOf(batch, TaskKinds.Load, executed),
            TaskKinds.Unload => EndOf(batch, TaskKinds.Dwell, executed),
            TaskKinds.Load or TaskKinds.Press => batches[batch]
                .Places.Select(p => ReadyAt(p.Piece, p.Step, executed))
                .DefaultIfEmpty(0)
                .Max(),
            _ => 0,
        };
    }

    /// <summary>The last moment at which a task may begin, by the longest waits of its pieces; null when none has one.</summary>
    public int? LimitOf(PlanTask task, Dictionary<string, Batch> batches, List<Executed> executed) =>
        task is { Piece: { } id, Step: { } step } ? LimitOf(id, step, executed)
        : task is { Kind: TaskKinds.Load or TaskKinds.Press, Batch: { } batch }
            ? batches[batch].Places.Min(p => LimitOf(p.Piece, p.Step, executed))
        : null;

    private int? LimitOf(string id, int step, List<Executed> executed)
    {
        var route = pieces[id].Piece.Route;
        var rests = step >= 2 && route[step - 2].Kind == StepKind.Rest;
        var before = rests ? step - 2 : step - 1;
        return before == 0 ? null : EndOf(id, before, executed) + (rests ? route[step - 2].MaxS : route[before - 1].MaxWaitS);
    }

    private int EndOf(string id, int step, List<Executed> executed) =>
        step <= pieces[id].Done ? pieces[id].LastEnd : executed.FindLast(e => Ends(e, id, step))?.End ?? int.MaxValue / 2;

    private static int EndOf(string batch, string kind, List<Executed> executed) =>
        executed.FindLast(e => e.Task.Batch == batch && e.Task.Kind == kind)?.End ?? 0;

    private int ReadyAt(string id, int step, List<Executed> executed)
    {
        var s = pieces[id];
        var route = s.Piece.Route;
        var rests = step >= 2 && route[step - 2].Kind == StepKind.Rest;
        var before = rests ? step - 2 : step - 1;
        if (before == 0)
            return s.Piece.EarliestS;
        return EndOf(id, before, executed) + (rests ? Math.Max(1, route[step - 2].MinS) : 0);
    }

    private static bool Ends(Executed e, string id, int step) =>
        (e.Task.Piece == id && e.Task.Step == step)
        || (e.Task.Kind is TaskKinds.Unload or TaskKinds.Press && (e.Batch?.Places.Any(p => p.Piece == id && p.Step == step) ?? false));

    /// <summary>Takes over what had begun before a moment; what is not over then goes on running.</summary>
    public void Take(List<Executed> executed, int until, int now)
    {
        var begun = executed.Where(e => e.Start < until).OrderBy(e => e.End).ToList();
        var fresh = begun
            .Where(e =>
                !running.Exists(r =>
                    r.Start == e.Start && r.Task.Kind == e.Task.Kind && r.Task.Station == e.Task.Station && r.Task.Piece == e.Task.Piece
                )
            )
            .ToList();
        foreach (var e in fresh)
            Spend(e);
        foreach (var e in begun.Where(e => e.End <= until))
            Finish(e);
        var renamed = Rename(begun);
        var loaded = begun
            .Where(e => e.Task.Kind == TaskKinds.Unload && e.End <= until)
            .Select(e => e.Task.Batch!)
            .ToHashSet(StringComparer.Ordinal);
        running =
        [
            .. begun
                .Where(e => e.End > until || IsPartOfOpenLoad(e, loaded))
                .Select(e =>
                    e with
                    {
                        Task = Named(e.Task, renamed),
                        Batch = e.Batch is null ? null : e.Batch with { Id = renamed[e.Batch.Id] },
                    }
                ),
        ];
    }

    private static bool IsPartOfOpenLoad(Executed e, HashSet<string> unloaded) =>
        e.Batch?.Kind == BatchKinds.Load && !unloaded.Contains(e.Batch.Id);

    private Dictionary<string, string> Rename(List<Executed> begun) =>
        begun
            .Where(e => e.Batch is not null)
            .Select(e => e.Batch!.Id)
            .Distinct(StringComparer.Ordinal)
            .ToDictionary(id => id, id => id.StartsWith('x') ? id : FormattableString.Invariant($"x{++named}"), StringComparer.Ordinal);

    private static PlanTask Named(PlanTask task, Dictionary<string, string> names) =>
        task.Batch is { } b ? task with { Batch = names[b] } : task;

    private void Spend(Executed e)
    {
        if (e.Task is { Kind: TaskKinds.Spray, Piece: { } id, Step: { } step } && e.Batch is { Coating: { } coating, Can: { } can })
            left[(coating, can)] -= pieces[id].Piece.Route[step - 1].Ul;
    }

    private void Finish(Executed e)
    {
        if (e.Task is { Piece: { } id, Step: { } step })
            Finish(id, step, e.End);
        else if (e.Task is { Kind: TaskKinds.SetPoint, ToTenthsC: { } to })
            held[e.Task.Station] = to;
        else if (e.Task.Kind is TaskKinds.Unload or TaskKinds.Press)
            foreach (var place in e.Batch!.Places)
                Finish(place.Piece, place.Step, e.End);
    }

    private void Finish(string id, int step, int end)
    {
        var s = pieces[id];
        if (step <= s.Done)
            return;
        (s.Done, s.LastEnd) = (step, end);
        if (s.Piece.Route[step - 1].Kind == StepKind.Inspect && faultAt.Remove(id, out var at) && at == end)
            BeginAgain(id, end);
    }

    /// <summary>The day that the planner is given at a moment.</summary>
    public Day DayAt(int now)
    {
        var open = pieces.Values.Where(s => s.Done < s.Piece.Route.Count || IsIn(s)).ToList();
        var tasks = running.Select(e => Given(e, now)).ToList();
        foreach (var s in open)
            if (s.Done > 0 && Rests(s) && Begun(s) is null)
                tasks.Add(new PlanTask(TaskKinds.Rest, Rack(), null, s.LastEnd - now, null, s.Piece.Id, s.Done + 1));
        return origin with
        {
            Zero = origin.Zero.AddSeconds(now),
            HorizonS = origin.HorizonS - now,
            People = [.. origin.People.Select(p => p with { Shifts = Later(p.Shifts, now) })],
            Stations = [.. origin.Stations.Select(Now)],
            Coatings =
            [
                .. origin.Coatings.Select(c =>
                    c with
                    {
                        Cans = [.. c.Cans.Select(k => k with { LeftUl = Math.Max(0, left[(c.Id, k.Id)]) })],
                    }
                ),
            ],
            Pieces = [.. open.Select(s => Later(s, Begun(s), now))],
            Running = new Running(tasks, [.. running.Select(e => e.Batch).OfType<Batch>().DistinctBy(b => b.Id)]),
        };
    }

    private static bool Rests(Standing s) => s.Done < s.Piece.Route.Count && s.Piece.Route[s.Done].Kind == StepKind.Rest;

    /// <summary>When what runs with the piece began; null when nothing does. Its rest before that is over.</summary>
    private int? Begun(Standing s) =>
        running
            .Where(e => e.Task.Piece == s.Piece.Id || (e.Batch?.Places.Any(p => p.Piece == s.Piece.Id) ?? false))
            .Min(e => (int?)e.Start);

    private string Rack() => origin.Stations.First(s => s.Kind == StationKind.Rack).Id;

    /// <summary>What is not over is believed to take as long as was planned; what should be over, to be over in a moment.</summary>
    private static PlanTask Given(Executed e, int now)
    {
        var over = e.End <= now;
        int? end =
            over ? e.End - now
            : e.Task.Kind == TaskKinds.Dwell ? null
            : Math.Max(1, e.Start + (e.Task.EndS!.Value - e.Task.StartS) - now);
        return e.Task with { StartS = e.Start - now, EndS = end };
    }

    private Station Now(Station station) =>
        station switch
        {
            Oven oven => oven with { Heat = oven.Heat with { NowTenthsC = held[oven.Id] } },
            Press press => press with { Heat = press.Heat with { NowTenthsC = held[press.Id] } },
            _ => station,
        };

    private static List<Shift> Later(IReadOnlyList<Shift> shifts, int now) =>
        [
            .. shifts
                .Where(s => s.ToS > now)
                .Select(s => new Shift(Math.Max(0, s.FromS - now), Math.Max(Math.Max(0, s.FromS - now), s.NormalToS - now), s.ToS - now)),
        ];

    private static Piece Later(Standing s, int? begun, int now) =>
        s.Piece with
        {
            Done = begun is not null && Rests(s) ? s.Done + 1 : s.Done,
            LastEndS =
                begun is { } start && Rests(s) ? start - now
                : s.Done == 0 ? null
                : s.LastEnd - now,
            EarliestS = Math.Max(0, s.Piece.EarliestS - now),
            PromiseS = s.Piece.PromiseS - now,
            Route = [.. s.Piece.Route.Select(r => r with { ReadyS = Math.Max(0, r.ReadyS - now) })],
        };
}
