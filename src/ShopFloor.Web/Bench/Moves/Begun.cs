using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>When a step really began: the tap says so, where the line was away between it and here.</summary>
public static class Begun
{
    /// <summary>The instant of the tap; now where it cannot have begun then.</summary>
    /// <param name="tapped">When it was tapped, by the server's clock as the page knew it; null: now.</param>
    /// <param name="now">Now.</param>
    /// <param name="pieces">What begins: not before the last that happened to any of them.</param>
    /// <param name="before">The last batch that ended in the station: not before its end; null: none, or done by hand.</param>
    public static DateTimeOffset Instant(DateTimeOffset? tapped, DateTimeOffset now, IReadOnlyList<Piece> pieces, Batch? before = null)
    {
        // A page whose clock is off by more than the way a tap may take is not believed.
        if (tapped is not { } at || at > now || now - at > Ended.LongestWay)
            return now;
        return pieces.All(p => p.ChangedAt <= at) && !(before?.FinishedAt > at) ? at : now;
    }
}
