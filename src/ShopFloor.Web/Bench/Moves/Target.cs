using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>What a scan or a tap is about.</summary>
/// <param name="Code">Code of a piece, a tray or a batch.</param>
/// <param name="Step">The step the person saw; so a second tap never does the step after it.</param>
/// <param name="Count">That many of a tray; null: all that are up for it.</param>
/// <param name="Group">The state of those of a tray that the person saw together; null: whatever state they are in.</param>
/// <param name="Runs">Whether the step of those ran; null: either.</param>
/// <param name="Only">Codes of those of a tray that were chosen by what stands on them; null: any.</param>
public sealed record Target(
    string Code,
    int? Step = null,
    int? Count = null,
    PieceState? Group = null,
    bool? Runs = null,
    IReadOnlyList<string>? Only = null
)
{
    /// <summary>True when a piece of a tray is one of those that the person saw together.</summary>
    internal bool IsAbout(Piece piece) =>
        (piece.NextAttended?.Number == Step || (Step is null && Group is null))
        && (Group is null || piece.State == Group)
        && (Runs is null || piece.NextAttended is { State: WorkState.Running } == Runs);
}

/// <summary>What a move did.</summary>
/// <param name="Text">In one plain sentence.</param>
/// <param name="Codes">The pieces.</param>
/// <param name="Batch">Code of the batch that came about or was moved.</param>
public sealed record Moved(string Text, IReadOnlyList<string> Codes, string? Batch = null)
{
    /// <summary>The station that it took down or brought back; null: none.</summary>
    public StationTurn? Station { get; init; }
}

/// <summary>A wish to begin a step.</summary>
/// <param name="Target">Of what.</param>
/// <param name="Station">Code of the station; null: the only one, or the plan's.</param>
/// <param name="Can">Code of the can; null: the one that is open.</param>
/// <param name="Decision">What to do with pieces outside their window.</param>
/// <param name="Each">The same for single pieces that begin as a batch, by their code; it goes before.</param>
/// <param name="TappedAt">When it was tapped, by the server's clock as the page knew it; null: now.</param>
/// <param name="IsHot">Who stands before the station says that it is hot, whatever is computed.</param>
public sealed record StartWish(
    Target Target,
    string? Station = null,
    string? Can = null,
    TimeDecision? Decision = null,
    IReadOnlyDictionary<string, TimeDecision>? Each = null,
    DateTimeOffset? TappedAt = null,
    bool IsHot = false
);

/// <summary>A wish to end a step.</summary>
/// <param name="Target">Of what.</param>
/// <param name="Measured">What was read off.</param>
/// <param name="Celsius">True temperature that was read, °C.</param>
/// <param name="End">When it really ended, when that was not now.</param>
/// <param name="Decision">What to do with pieces outside their window.</param>
/// <param name="Text">At Tape: the text of the print that the piece got; null: the next of its line.</param>
public sealed record FinishWish(
    Target Target,
    string? Measured = null,
    decimal? Celsius = null,
    Ended? End = null,
    TimeDecision? Decision = null,
    string? Text = null
);

/// <summary>When a step really ended: the tap often comes later than the hand, and the line may have been away.</summary>
/// <param name="AtSignal">As the shortest time was over.</param>
/// <param name="SecondsAgo">That long before now.</param>
/// <param name="TappedAt">When it was tapped, by the server's clock as the page knew it.</param>
public sealed record Ended(bool AtSignal, int SecondsAgo = 0, DateTimeOffset? TappedAt = null)
{
    internal static readonly TimeSpan LongestWay = TimeSpan.FromMinutes(10);

    // What has to be decided may wait for the person who may decide it, and the page keeps the moment meanwhile.
    private static readonly TimeSpan LongestDecision = TimeSpan.FromHours(12);

    /// <summary>The instant, or why it cannot be.</summary>
    public static Domain.Result<DateTimeOffset> Instant(
        Ended? end,
        DateTimeOffset? began,
        int minSeconds,
        DateTimeOffset now,
        bool decided = false
    )
    {
        if (end is null || began is not { } start)
            return now;
        // A page whose clock is off by more than the way a tap may take is not believed.
        if (end is { AtSignal: false, TappedAt: { } tapped })
            return tapped >= start && tapped <= now && now - tapped <= (decided ? LongestDecision : LongestWay) ? tapped : now;
        var at = end.AtSignal ? start.AddSeconds(minSeconds) : now.AddSeconds(-end.SecondsAgo);
        return at > now || at < start || end.SecondsAgo < 0
            ? new Domain.Refusal("end-impossible", "It cannot have ended then: that is before it began, or still to come.", "end")
            : at;
    }
}
