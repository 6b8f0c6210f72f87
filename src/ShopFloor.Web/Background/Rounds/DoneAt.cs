namespace ShopFloor.Web.Background.Rounds;

/// <summary>When something was done, for "is it due again": neither a clock that is put back nor one that stood still while the machine slept puts it off.</summary>
internal readonly record struct DoneAt(DateTimeOffset Clock, long Stamp)
{
    /// <summary>Done now.</summary>
    public static DoneAt Now(TimeProvider time) => new(time.GetUtcNow(), time.GetTimestamp());

    /// <summary>How long ago: the longer of what the clock says and of what has run.</summary>
    public TimeSpan Ago(TimeProvider time) =>
        TimeSpan.FromTicks(Math.Max((time.GetUtcNow() - Clock).Ticks, time.GetElapsedTime(Stamp).Ticks));
}
