namespace ShopFloor.Domain.Calls;

/// <summary>
/// One call for somebody, from its cause until its cause is gone. Open: nobody has said to be on it. Seen: somebody has. Put off: seen, and
/// quiet until an instant, after which it calls again by itself. Cleared: its cause is gone, whoever saw it. The kinds of state follow the
/// alarm management standard ISA-18.2, known to us through public articles.
/// </summary>
public sealed class Call
{
    /// <summary>A cause that comes back within this time goes on as the same call and does not call anew (common practice, no source).</summary>
    public static readonly TimeSpan Hysteresis = TimeSpan.FromMinutes(2);

    /// <summary>The longest that a call is put off (common practice, no source).</summary>
    public static readonly TimeSpan LongestPutOff = TimeSpan.FromMinutes(60);

    /// <summary>The longest that the most urgent calls are put off: something is getting spoiled meanwhile.</summary>
    public static readonly TimeSpan LongestPutOffOfUrgent = TimeSpan.FromMinutes(5);

    private Call() { }

    /// <summary>A call that has just come up.</summary>
    /// <param name="id">Names it.</param>
    /// <param name="key">Names its cause: the same cause gives the same key.</param>
    /// <param name="rule">Key of the rule that calls.</param>
    /// <param name="subject">Code of the batch, tray or piece that a scan would answer; empty when it is about several.</param>
    /// <param name="source">What it comes from, for counting, e.g. <c>over oven-1</c>.</param>
    /// <param name="priority">1 is the most urgent.</param>
    /// <param name="at">When, UTC.</param>
    public Call(Guid id, string key, string rule, string subject, string source, int priority, DateTimeOffset at) =>
        (Id, Key, Rule, Subject, Source, Priority, RaisedAt) = (id, key, rule, subject, source, priority, at);

    /// <summary>Names it.</summary>
    public Guid Id { get; private set; }

    /// <summary>Names its cause.</summary>
    public string Key { get; private set; } = "";

    /// <summary>Key of the rule that calls.</summary>
    public string Rule { get; private set; } = "";

    /// <summary>Code that a scan answers it with; may be empty.</summary>
    public string Subject { get; private set; } = "";

    /// <summary>What it comes from, for counting.</summary>
    public string Source { get; private set; } = "";

    /// <summary>1 is the most urgent.</summary>
    public int Priority { get; private set; }

    /// <summary>When it came up, UTC.</summary>
    public DateTimeOffset RaisedAt { get; private set; }

    /// <summary>When somebody first said to be on it, UTC.</summary>
    public DateTimeOffset? SeenAt { get; private set; }

    /// <summary>Who.</summary>
    public string? SeenBy { get; private set; }

    /// <summary>Quiet until then, UTC; null: not put off.</summary>
    public DateTimeOffset? PutOffUntil { get; private set; }

    /// <summary>Why it was put off.</summary>
    public string? Reason { get; private set; }

    /// <summary>When its cause was gone, UTC; null: it is still there.</summary>
    public DateTimeOffset? ClearedAt { get; private set; }

    /// <summary>How often its cause came back while it was the same call.</summary>
    public int Returns { get; private set; }

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Somebody is on it. Saying so twice changes nothing.</summary>
    public Result<Done> See(string by, DateTimeOffset at)
    {
        if (ClearedAt is not null)
            return Over;
        if (SeenAt is not null && PutOffUntil is null)
            return default(Done);
        (SeenAt, SeenBy, PutOffUntil, Reason) = (SeenAt ?? at, SeenAt is null ? by : SeenBy, null, null);
        Version++;
        return default(Done);
    }

    /// <summary>Quiet for a while, with a reason; then it calls again by itself, as if nobody had seen it.</summary>
    public Result<Done> PutOff(TimeSpan length, string reason, string by, DateTimeOffset at)
    {
        if (ClearedAt is not null)
            return Over;
        if (string.IsNullOrWhiteSpace(reason) || reason.Length > 200)
            return new Refusal("reason-missing", "Say why, in at most 200 characters.", "reason");
        var longest = Priority == 1 ? LongestPutOffOfUrgent : LongestPutOff;
        if (length <= TimeSpan.Zero || length > longest)
            return new Refusal("put-off-long", $"This call can be put off for at most {longest.TotalMinutes:0} minutes.", "minutes");
        (SeenAt, SeenBy, PutOffUntil, Reason) = (SeenAt ?? at, SeenAt is null ? by : SeenBy, at + length, reason.Trim());
        Version++;
        return default(Done);
    }

    /// <summary>Its cause is gone. Clearing twice changes nothing.</summary>
    public void Clear(DateTimeOffset at)
    {
        ClearedAt ??= at;
        Version++;
    }

    /// <summary>Its cause is back soon after it was gone: the same call goes on, seen as it was. False: too late, or never gone; it is a new call.</summary>
    public bool ComeBack(DateTimeOffset at)
    {
        if (ClearedAt is not { } gone || at - gone > Hysteresis)
            return false;
        ClearedAt = null;
        Returns++;
        Version++;
        return true;
    }

    /// <summary>Where it stands at an instant.</summary>
    public CallState StateAt(DateTimeOffset at)
    {
        if (ClearedAt is not null)
            return CallState.Cleared;
        if (PutOffUntil is { } until)
            return at < until ? CallState.PutOff : CallState.Open;
        return SeenAt is null ? CallState.Open : CallState.Seen;
    }

    private static Refusal Over => new("call-over", "This call is over: its cause is gone.");
}

/// <summary>Where a call stands.</summary>
public enum CallState
{
    /// <summary>Nobody is on it yet.</summary>
    Open,

    /// <summary>Somebody is on it.</summary>
    Seen,

    /// <summary>Quiet for a while.</summary>
    PutOff,

    /// <summary>Its cause is gone.</summary>
    Cleared,
}
