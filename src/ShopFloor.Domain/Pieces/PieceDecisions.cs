namespace ShopFloor.Domain.Pieces;

public sealed partial class Piece
{
    /// <summary>Begins the next step, or does what was decided when the time before it is outside its window.</summary>
    /// <param name="step">Must be the next attended one.</param>
    /// <param name="at">Now.</param>
    /// <param name="where">Batch, station and can, as far as they apply.</param>
    /// <param name="decision">What to do outside the window; null: refuse then.</param>
    /// <param name="toDecide">Something else that a person has to decide first, such as a missing test; null: nothing.</param>
    /// <param name="mostReworks">How often the workshop reworks a piece.</param>
    /// <returns>The events in order, or why not.</returns>
    public Result<IReadOnlyList<PieceEvent>> StartOrDecide(
        int step,
        DateTimeOffset at,
        (BatchId? Batch, StationId? Station, CanId? Can) where,
        TimeDecision? decision,
        Refusal? toDecide = null,
        int mostReworks = UsualReworks
    )
    {
        var plain = Start(step, at, where);
        var isToDecide = plain.IsOk ? toDecide is not null : IsAboutTime(plain.Refusals);
        if (isToDecide && toDecide is not null)
            plain = Result<PieceEvent>.Refused(plain.IsOk ? [toDecide] : [.. plain.Refusals, toDecide]);
        if (decision is null || !isToDecide)
            return One(plain);
        return decision.Choice switch
        {
            TimeChoice.GoOn => One(
                string.IsNullOrWhiteSpace(decision.Reason) ? NoReason : Start(step, at, where, Words(plain.Refusals, decision.Reason))
            ),
            _ => One(Follow(decision, at, mostReworks)),
        };
    }

    /// <summary>Ends the running step; outside its window the decision says what follows, and the piece has left the station either way.</summary>
    /// <param name="step">Must be the running one.</param>
    /// <param name="at">Now.</param>
    /// <param name="measured">What was read off.</param>
    /// <param name="decision">What to do outside the window; null: refuse then.</param>
    /// <param name="alsoWrong">Something else that was outside, such as the temperature; null: nothing.</param>
    /// <param name="since">From when its time counts; null: from its beginning.</param>
    /// <param name="mostReworks">How often the workshop reworks a piece.</param>
    /// <returns>The events in order, or why not.</returns>
    public Result<IReadOnlyList<PieceEvent>> FinishOrDecide(
        int step,
        DateTimeOffset at,
        string? measured,
        TimeDecision? decision,
        Refusal? alsoWrong = null,
        DateTimeOffset? since = null,
        int mostReworks = UsualReworks
    )
    {
        var plain = Finish(step, at, measured, null, since);
        var isToDecide = plain.IsOk ? alsoWrong is not null : IsAboutTime(plain.Refusals);
        if (isToDecide && alsoWrong is not null)
            plain = Result<PieceEvent>.Refused(plain.IsOk ? [alsoWrong] : [.. plain.Refusals, alsoWrong]);
        if (decision is null || !isToDecide)
            return One(plain);
        if (string.IsNullOrWhiteSpace(decision.Reason))
            return One(NoReason);
        var ended = Finish(step, at, measured, Words(plain.Refusals, decision.Reason));
        // A piece that is put aside already stays so: it only comes out of the station.
        if (!ended.IsOk || decision.Choice == TimeChoice.GoOn || State == PieceState.Held)
            return One(ended);
        // Whether it may follow is judged on the piece as it is now; ending the step takes none of these moves away.
        var follows = Follow(decision, at, mostReworks);
        return follows.IsOk
            ? Result<IReadOnlyList<PieceEvent>>.Ok([ended.Value, follows.Value])
            : Result<IReadOnlyList<PieceEvent>>.Refused(follows.Refusals);
    }

    /// <summary>True when a refusal is about a window, so that a person may decide.</summary>
    public static bool IsAboutTime(IReadOnlyList<Refusal> refusals) => refusals.All(r => r.Code is "too-early" or "too-late");

    private static Result<PieceEvent> NoReason => new Refusal("reason-missing", "Say why, in a few words.", "reason");

    /// <summary>What a decision other than going on does to the piece.</summary>
    /// <param name="decision">What was decided.</param>
    /// <param name="at">Now.</param>
    /// <param name="mostReworks">How often the workshop reworks a piece.</param>
    /// <exception cref="ArgumentOutOfRangeException">The decision is to go on: nothing follows.</exception>
    public Result<PieceEvent> Follow(TimeDecision decision, DateTimeOffset at, int mostReworks = UsualReworks) =>
        decision.Choice switch
        {
            TimeChoice.Rework => decision.Step is { } from
                ? Rework(from, decision.Reason, at, mostReworks)
                : new Refusal("rework-step", "Choose the step to go back to.", "step"),
            TimeChoice.Test => string.IsNullOrWhiteSpace(decision.Reason) ? NoReason : Hold($"Test first: {decision.Reason.Trim()}", at),
            TimeChoice.Hold => Hold(decision.Reason, at),
            TimeChoice.Spoil => Spoil(decision.Reason, at),
            TimeChoice.LeaveOut => new Refusal("leave-out", "A piece can only be left out of a round, a load or a session that begins."),
            _ => throw new ArgumentOutOfRangeException(nameof(decision), decision.Choice, "Unknown choice."),
        };

    private static string Words(IReadOnlyList<Refusal> wrong, string reason) =>
        $"{string.Join(", ", wrong.Select(w => w.Code))}: {reason.Trim()}";

    private static Result<IReadOnlyList<PieceEvent>> One(Result<PieceEvent> answer) =>
        answer.IsOk ? Result<IReadOnlyList<PieceEvent>>.Ok([answer.Value]) : Result<IReadOnlyList<PieceEvent>>.Refused(answer.Refusals);
}
