namespace ShopFloor.Web.Background.Demo;

/// <summary>Lets the demo's past happen in the past.</summary>
public sealed class DemoClock(DateTimeOffset start) : TimeProvider
{
    private DateTimeOffset now = start;

    /// <inheritdoc />
    public override DateTimeOffset GetUtcNow() => now;

    /// <summary>Goes there.</summary>
    public void GoTo(DateTimeOffset at) => now = at;
}
