using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>One task with its position and what its names mean; null where a name means nothing.</summary>
internal sealed record Entry(int At, PlanTask Task, Station? Station, Person? Person, Piece? Piece, Step? Step, Batch? Batch)
{
    /// <summary>The running task that it repeats, or null when the planner chose it.</summary>
    public PlanTask? Given { get; set; }

    public bool IsRunning => Given is not null;

    public int Start => Task.StartS;

    public int End => Task.EndS ?? Task.StartS;

    public int Length => End - Start;

    public bool IsAttended => Task.Kind is not (TaskKinds.Rest or TaskKinds.Dwell or TaskKinds.SetPoint);

    public bool Overlaps(int from, int to) => Start < to && from < End;
}

/// <summary>From when to when a piece is in one of its steps: for a cure from its load's start to its unload's end.</summary>
internal sealed record StepSpan(int Start, int End, string Station, bool IsRunning, IReadOnlyList<int> Tasks, string? Batch);

/// <summary>A load, session or round with its tasks.</summary>
internal sealed record BatchEntry(Batch Batch, bool IsRunning, IReadOnlyList<Entry> Tasks)
{
    public IEnumerable<Entry> Of(string kind) => Tasks.Where(t => t.Task.Kind == kind);

    public Entry? Only(string kind)
    {
        var all = Of(kind).ToList();
        return all.Count == 1 ? all[0] : null;
    }

    public IReadOnlyList<int> Positions => [.. Tasks.Select(t => t.At)];
}

/// <summary>The plan with its names looked up, and the findings so far.</summary>
internal sealed class Sheet
{
    private readonly List<Finding> findings = [];
    private readonly Dictionary<(string, int), List<StepSpan>> spans = [];

    public Sheet(Day day, Plan plan)
    {
        (Day, Plan) = (day, plan);
        Stations = day.Stations.ToDictionary(s => s.Id, StringComparer.Ordinal);
        People = day.People.ToDictionary(p => p.Id, StringComparer.Ordinal);
        Pieces = day.Pieces.ToDictionary(p => p.Id, StringComparer.Ordinal);
        Coatings = day.Coatings.ToDictionary(c => c.Id, StringComparer.Ordinal);
        var batches = new Dictionary<string, Batch>(StringComparer.Ordinal);
        foreach (var batch in plan.Batches)
            batches.TryAdd(batch.Id, batch);
        LeftOut = [.. plan.LeftOut.Select(l => l.Piece)];
        Entries = [.. plan.Tasks.Select((task, at) => Look(task, at, batches))];
        MatchRunning();
        var byBatch = Entries.Where(e => e.Batch is not null).ToLookup(e => e.Batch!.Id, StringComparer.Ordinal);
        var running = day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        Batches = [.. plan.Batches.Select(b => new BatchEntry(b, running.Contains(b.Id), [.. byBatch[b.Id].OrderBy(e => e.Start)]))];
        CollectSpans();
    }

    public Day Day { get; }

    public Plan Plan { get; }

    public Dictionary<string, Station> Stations { get; }

    public Dictionary<string, Person> People { get; }

    public Dictionary<string, Piece> Pieces { get; }

    public Dictionary<string, Coating> Coatings { get; }

    public HashSet<string> LeftOut { get; }

    public IReadOnlyList<Entry> Entries { get; }

    public IReadOnlyList<BatchEntry> Batches { get; }

    public IReadOnlyList<Finding> Findings => findings;

    public void Report(
        string rule,
        string text,
        long amount = 0,
        IReadOnlyList<int>? tasks = null,
        IReadOnlyList<string>? pieces = null,
        IReadOnlyList<string>? batches = null
    ) => findings.Add(new Finding(rule, tasks ?? [], pieces ?? [], batches ?? [], amount, text));

    public void Report(string rule, string text, long amount, params ReadOnlySpan<Entry> entries)
    {
        var (tasks, pieces, batches) = (new List<int>(), new List<string>(), new List<string>());
        foreach (var entry in entries)
        {
            tasks.Add(entry.At);
            if (entry.Task.Piece is { } piece && !pieces.Contains(piece))
                pieces.Add(piece);
            if (entry.Task.Batch is { } batch && !batches.Contains(batch))
                batches.Add(batch);
        }
        findings.Add(new Finding(rule, tasks, pieces, batches, amount, text));
    }

    /// <summary>All appearances of a step in the plan; one in a good plan.</summary>
    public IReadOnlyList<StepSpan> Spans(string piece, int step) => spans.TryGetValue((piece, step), out var list) ? list : [];

    /// <summary>The step's appearance, when there is exactly one.</summary>
    public StepSpan? Span(string piece, int step) => Spans(piece, step) is [var only] ? only : null;

    /// <summary>When a piece is finished, or null when the plan does not finish it.</summary>
    public int? EndOf(Piece piece) => piece.Done >= piece.Route.Count ? piece.LastEndS : Span(piece.Id, piece.Route.Count)?.End;

    private Entry Look(PlanTask task, int at, Dictionary<string, Batch> batches)
    {
        var piece = task.Piece is { } id ? Pieces.GetValueOrDefault(id) : null;
        var step = piece is not null && task.Step is { } k && k >= 1 && k <= piece.Route.Count ? piece.Route[k - 1] : null;
        return new Entry(
            at,
            task,
            Stations.GetValueOrDefault(task.Station),
            task.Person is { } person ? People.GetValueOrDefault(person) : null,
            piece,
            step,
            task.Batch is { } batch ? batches.GetValueOrDefault(batch) : null
        );
    }

    private void MatchRunning()
    {
        var given = Day.Running.Tasks.ToLookup(t => t with { EndS = null });
        var used = new HashSet<PlanTask>(ReferenceEqualityComparer.Instance);
        foreach (var entry in Entries)
        {
            var match = given[entry.Task with { EndS = null }]
                .FirstOrDefault(g => (g.EndS is null || g.EndS == entry.Task.EndS) && !used.Contains(g));
            if (match is null)
                continue;
            entry.Given = match;
            used.Add(match);
        }
    }

    private void CollectSpans()
    {
        foreach (var e in Entries)
            if (e.Task.Piece is { } piece && e.Task.Step is { } step)
                AddSpan(piece, step, new StepSpan(e.Start, e.End, e.Task.Station, e.IsRunning, [e.At], e.Task.Batch));
        foreach (var batch in Batches)
            if (batch.Batch.Kind != BatchKinds.Round && SpanOf(batch) is { } span)
                foreach (var place in batch.Batch.Places)
                    AddSpan(place.Piece, place.Step, span);
    }

    private static StepSpan? SpanOf(BatchEntry batch)
    {
        if (batch.Tasks.Count == 0)
            return null;
        var (first, last) = (batch.Tasks[0], batch.Tasks.MaxBy(t => t.End)!);
        return new StepSpan(first.Start, last.End, first.Task.Station, batch.IsRunning, batch.Positions, batch.Batch.Id);
    }

    private void AddSpan(string piece, int step, StepSpan span)
    {
        if (!spans.TryGetValue((piece, step), out var list))
            spans[(piece, step)] = list = [];
        list.Add(span);
    }
}
