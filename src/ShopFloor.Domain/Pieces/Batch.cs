namespace ShopFloor.Domain.Pieces;

/// <summary>What is done to several pieces at once.</summary>
public enum BatchKind
{
    /// <summary>Sprayed one after another from one can.</summary>
    SprayRound,

    /// <summary>Together in the oven.</summary>
    OvenLoad,

    /// <summary>Together under the press.</summary>
    PressSession,
}

/// <summary>Where a batch is.</summary>
public enum BatchState
{
    /// <summary>Being put together.</summary>
    Building,

    /// <summary>Begun; nobody joins any more.</summary>
    Running,

    /// <summary>Finished.</summary>
    Done,

    /// <summary>Ended early, with a reason.</summary>
    Stopped,

    /// <summary>Given up before it began.</summary>
    Dropped,
}

/// <summary>One piece's place in a batch. Lengths in whole µm from the shelf's or platen's near left corner.</summary>
/// <param name="Piece">Which piece.</param>
/// <param name="Step">Its step that is done here.</param>
/// <param name="Shelf">Shelf from 1; 0 where there are no shelves.</param>
/// <param name="XMicrometres">From the left edge.</param>
/// <param name="YMicrometres">From the near edge.</param>
/// <param name="Turned">True when it lies a quarter turn round.</param>
/// <param name="IsIn">True when somebody scanned it in: it really lies there.</param>
public sealed record BatchPlace(PieceId Piece, int Step, int Shelf, long XMicrometres, long YMicrometres, bool Turned, bool IsIn = false);

/// <summary>The one setting of a batch.</summary>
public sealed record BatchSettings
{
    /// <summary>True temperature, °C; for loads and sessions.</summary>
    public decimal? Celsius { get; init; }

    /// <summary>What the dial must show, °C: the true temperature and the oven's error.</summary>
    public decimal? DialCelsius { get; init; }

    /// <summary>Shortest time that suits every member, seconds.</summary>
    public int MinSeconds { get; init; }

    /// <summary>Longest time that suits every member, seconds.</summary>
    public int? MaxSeconds { get; init; }

    /// <summary>Light, medium or heavy.</summary>
    public string? Pressure { get; init; }

    /// <summary>How piece and print lie.</summary>
    public string? LayUp { get; init; }

    /// <summary>Shake of the can before the first piece, seconds.</summary>
    public int ShakeSeconds { get; init; }

    /// <summary>From when its time counts where that is not its beginning, UTC: its oven was found too cold, and it stayed in. Null: from its beginning.</summary>
    public DateTimeOffset? CountsFrom { get; init; }
}

/// <summary>A spray round, an oven load or a press session. A root of its own: it spans orders.</summary>
public sealed class Batch
{
    private const string LeftIn = "left in longer";

    private Batch() { }

    /// <summary>A batch that is being put together.</summary>
    public Batch(BatchId id, BatchKind kind, string code, StationId station, BatchSettings settings, DateTimeOffset at)
    {
        (Id, Kind, Code, Station, Settings, MadeAt) = (id, kind, code, station, settings, at);
    }

    /// <summary>Names it.</summary>
    public BatchId Id { get; private set; }

    /// <summary>Round, load or session.</summary>
    public BatchKind Kind { get; private set; }

    /// <summary>What people call it, e.g. <c>L-31</c>.</summary>
    public string Code { get; private set; } = "";

    /// <summary>Where.</summary>
    public StationId Station { get; private set; }

    /// <summary>The can of a round.</summary>
    public CanId? Can { get; private set; }

    /// <summary>Its one setting.</summary>
    public BatchSettings Settings { get; private set; } = new();

    /// <summary>Members with their places.</summary>
    public IReadOnlyList<BatchPlace> Places { get; private set; } = [];

    /// <summary>Where it is.</summary>
    public BatchState State { get; private set; }

    /// <summary>Its name in the plan that proposed it, e.g. <c>L1</c>; null when put together by hand.</summary>
    public string? PlanName { get; private set; }

    /// <summary>When it was put together, UTC.</summary>
    public DateTimeOffset MadeAt { get; private set; }

    /// <summary>When it began, UTC.</summary>
    public DateTimeOffset? StartedAt { get; private set; }

    /// <summary>From when its shortest time counts, UTC: its beginning, or later where what was in a cold oven does not count. Null: it has not begun.</summary>
    public DateTimeOffset? CountsFrom => StartedAt is { } began ? Settings.CountsFrom ?? began : null;

    /// <summary>When its shortest time is over, UTC. Null: it has not begun.</summary>
    public DateTimeOffset? MayEndAt => CountsFrom?.AddSeconds(Settings.MinSeconds);

    /// <summary>
    /// When its longest time is over, UTC: always from its beginning, for an oven that was a little too cold bakes all the same, but where its shortest
    /// counts anew not before that. Null: it has not begun, or has none.
    /// </summary>
    public DateTimeOffset? MustEndAt =>
        StartedAt is { } began && Settings.MaxSeconds is { } most
            ? Later(began.AddSeconds(most), Settings.CountsFrom is null ? null : MayEndAt)
            : null;

    /// <summary>When it ended, UTC.</summary>
    public DateTimeOffset? FinishedAt { get; private set; }

    /// <summary>Why it was stopped early, or went on outside its window.</summary>
    public string? Reason { get; private set; }

    /// <summary>What was read off, e.g. the true temperature.</summary>
    public string? Measured { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    // Readings before the last one say so: what ends it can be taken back, they stay.
    private List<string> KeptReadings => [.. (Measured ?? "").Split("; ").Where(r => r.EndsWith(LeftIn, StringComparison.Ordinal))];

    private static DateTimeOffset Later(DateTimeOffset at, DateTimeOffset? other) => other > at ? other.Value : at;

    /// <summary>Sets members, places, setting and can while it is being put together.</summary>
    public Result<Done> Arrange(IReadOnlyList<BatchPlace> places, BatchSettings settings, CanId? can = null, string? planName = null)
    {
        if (State != BatchState.Building)
            return new Refusal("batch-begun", $"{Code} has begun: no piece joins or leaves it now.");
        if (places.Select(p => p.Piece).Distinct().Count() != places.Count)
            return new Refusal("piece-twice", "A piece is in this batch twice.");
        (Places, Settings, Can, PlanName) = ([.. places], settings, can ?? Can, planName ?? PlanName);
        Version++;
        return default(Done);
    }

    /// <summary>Notes that a member really lies in it, or was taken out again; only before it begins.</summary>
    public Result<Done> ScanIn(PieceId piece, bool isIn)
    {
        if (State != BatchState.Building)
            return new Refusal("batch-begun", $"{Code} has begun: no piece joins or leaves it now.");
        if (!Places.Any(p => p.Piece == piece))
            return new Refusal("not-member", $"This piece is not in {Code}.");
        Places = [.. Places.Select(p => p.Piece == piece ? p with { IsIn = isIn } : p)];
        Version++;
        return default(Done);
    }

    /// <summary>Puts its can back before it begins: it may not be sprayed from any more, and another has to be chosen.</summary>
    public void PutCanBack()
    {
        if (State != BatchState.Building || Can is null)
            return;
        Can = null;
        Version++;
    }

    /// <summary>Gives it up before it began.</summary>
    public Result<Done> Drop()
    {
        if (State != BatchState.Building)
            return new Refusal("batch-begun", $"{Code} has begun and cannot be given up.");
        State = BatchState.Dropped;
        Version++;
        return default(Done);
    }

    /// <summary>Takes back that it was given up: it is being put together as it was.</summary>
    public Result<Done> TakeUpAgain()
    {
        if (State != BatchState.Dropped)
            return new Refusal("batch-begun", $"{Code} was not given up.");
        State = BatchState.Building;
        Version++;
        return default(Done);
    }

    /// <summary>Begins.</summary>
    public Result<Done> Start(DateTimeOffset at)
    {
        if (State != BatchState.Building)
            return new Refusal("batch-begun", $"{Code} has begun already.");
        if (Places.Count == 0)
            return new Refusal("batch-empty", $"{Code} has no pieces.");
        (State, StartedAt) = (BatchState.Running, at);
        Version++;
        return default(Done);
    }

    /// <summary>Ends as planned, or early with a reason.</summary>
    public Result<Done> Finish(DateTimeOffset at, string? measured, string? stoppedBecause)
    {
        if (State != BatchState.Running)
            return new Refusal("batch-not-running", $"{Code} is not running.");
        State = stoppedBecause is null ? BatchState.Done : BatchState.Stopped;
        (FinishedAt, Measured, Reason) = (at, measured ?? Measured, stoppedBecause);
        Version++;
        return default(Done);
    }

    /// <summary>Keeps what was read off while it goes on: it stays known, whatever is read at the end.</summary>
    /// <param name="read">What was read, and when, e.g. <c>148 °C at 10:42</c>.</param>
    /// <param name="countsFrom">From when its time counts anew; null: as before.</param>
    public Result<Done> KeepReading(string read, DateTimeOffset? countsFrom = null)
    {
        if (State != BatchState.Running)
            return new Refusal("batch-not-running", $"{Code} is not running.");
        var text = $"{read}, {LeftIn}";
        if (!KeptReadings.Contains(text, StringComparer.Ordinal))
            Measured = string.Join("; ", KeptReadings.Append(text));
        Settings = Settings with { CountsFrom = countsFrom ?? Settings.CountsFrom };
        Version++;
        return default(Done);
    }

    /// <summary>Takes the last move back: running again, or being put together again.</summary>
    public Result<Done> StepBack()
    {
        switch (State)
        {
            case BatchState.Done or BatchState.Stopped:
                var kept = KeptReadings;
                (State, FinishedAt, Measured, Reason) = (BatchState.Running, null, kept.Count > 0 ? string.Join("; ", kept) : null, null);
                break;
            case BatchState.Running:
                (State, StartedAt, Settings) = (BatchState.Building, null, Settings with { CountsFrom = null });
                break;
            default:
                return new Refusal("batch-not-begun", $"{Code} has not begun.");
        }
        Version++;
        return default(Done);
    }
}
