namespace ShopFloor.Web.Tests.Support;

/// <summary>A clock whose hands a test puts back while time runs on.</summary>
internal sealed class SteppedClock(DateTimeOffset start) : TimeProvider
{
    private TimeSpan ran;
    private DateTimeOffset shows = start;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => shows;

    public override long GetTimestamp() => ran.Ticks;

    /// <summary>So much time runs, and the hands move by something else.</summary>
    public void Step(TimeSpan time, TimeSpan hands) => (ran, shows) = (ran + time, shows + hands);
}
