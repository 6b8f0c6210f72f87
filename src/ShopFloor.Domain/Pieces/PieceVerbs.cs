using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

public sealed partial class Piece
{
    /// <summary>It came in.</summary>
    public Result<PieceEvent> Receive(DateTimeOffset at) => Allow(PieceMove.Receive, () => new PieceReceived(at));

    /// <summary>Begins the next step.</summary>
    /// <param name="step">Must be the next attended one.</param>
    /// <param name="at">Now.</param>
    /// <param name="where">Batch, station and can, as far as they apply.</param>
    /// <param name="decision">Why it goes on although the time is outside the window; null: refuse then.</param>
    /// <returns>The event, or <c>not-next</c>, <c>already-running</c>, <c>too-early</c>, <c>too-late</c>, <c>move-not-allowed</c>.</returns>
    public Result<PieceEvent> Start(
        int step,
        DateTimeOffset at,
        (BatchId? Batch, StationId? Station, CanId? Can) where = default,
        string? decision = null
    )
    {
        var next = NextAttended;
        if (next is null || next.Number != step)
            return new Refusal(
                "not-next",
                next is null ? "All steps of this piece are done." : $"The next step is {next.Number}, {next.Kind}."
            );
        if (next.State == WorkState.Running)
            return new Refusal("already-running", $"{next.Kind} is already running.");
        if (next.Kind == StepKind.Press && !IsBound && items.Exists(i => i.Kind == StepKind.Tape))
            return new Refusal("not-bound", "This piece has no print yet: tape it first.");
        var before = items.Find(i => i.Number == step - 1);
        if (decision is null && StepWindow.AtStart(before, at) is { } wrong)
            return wrong;
        return Allow(PieceMove.Start, () => new StepStarted(at, step, where.Batch, where.Station, where.Can, decision));
    }

    /// <summary>Ends the running step.</summary>
    /// <param name="step">Must be the running one.</param>
    /// <param name="at">Now.</param>
    /// <param name="measured">What was read off, at most 200 characters.</param>
    /// <param name="decision">Why it ends outside its window; null: refuse then.</param>
    /// <param name="since">From when its time counts; null: from its beginning.</param>
    /// <returns>The event, or <c>not-running</c>, <c>too-early</c>, <c>too-late</c>, <c>move-not-allowed</c>.</returns>
    public Result<PieceEvent> Finish(
        int step,
        DateTimeOffset at,
        string? measured = null,
        string? decision = null,
        DateTimeOffset? since = null
    )
    {
        var item = items.Find(i => i.Number == step);
        if (item is not { State: WorkState.Running } || item.Kind.IsRest())
            return new Refusal("not-running", $"Step {step} is not running.");
        if (item.Kind == StepKind.Tape && !IsBound)
            return new Refusal("not-bound", "Choose which print this piece gets before Tape is finished.");
        if (measured?.Length > 200)
            return new Refusal("measured-long", "A reading has at most 200 characters.", "measured");
        if (item.Kind == StepKind.Inspect && State == PieceState.Held)
            return new Refusal("piece-held", "This piece is put aside: release it before it is judged good.");
        if (decision is null && StepWindow.AtFinish(item, at, since) is { } wrong)
            return wrong;
        return Allow(PieceMove.Finish, () => new StepFinished(at, step, measured, decision));
    }

    /// <summary>Breaks the running step off; it has to be done again, and its time before does not count.</summary>
    public Result<PieceEvent> BreakOff(int step, string reason, DateTimeOffset at)
    {
        var item = items.Find(i => i.Number == step);
        if (item is not { State: WorkState.Running } || item.Kind.IsRest())
            return new Refusal("not-running", $"Step {step} is not running.");
        return WithReason(reason, PieceMove.BreakOff, text => new StepBrokenOff(at, step, text));
    }

    /// <summary>Leaves the next step out, with a reason.</summary>
    public Result<PieceEvent> Skip(int step, DateTimeOffset at, string reason)
    {
        var next = NextAttended;
        if (next is null || next.Number != step || next.State == WorkState.Running)
            return new Refusal("not-next", "Only the next step can be left out, and not while it runs.");
        return WithReason(reason, PieceMove.Skip, text => new StepSkipped(at, step, text));
    }

    /// <summary>Tape gives the piece its print, and with it its name.</summary>
    public Result<PieceEvent> Bind(PictureId? picture, string? text, DateTimeOffset at)
    {
        if (IsBound)
            return new Refusal("already-bound", "This piece already has its print.");
        return NextAttended is { Kind: StepKind.Tape }
            ? new PictureBound(at, picture, text)
            : new Refusal("not-at-tape", "A piece gets its print at Tape.");
    }

    /// <summary>Notes a fault of the current step.</summary>
    /// <param name="fault">Key in <see cref="FaultList"/>.</param>
    /// <param name="note">In the person's words, at most 500 characters; may be empty.</param>
    /// <param name="at">Now.</param>
    /// <param name="photo">A photo of it.</param>
    public Result<PieceEvent> Fault(string fault, string note, DateTimeOffset at, PictureId? photo = null)
    {
        if (FaultList.Find(fault) is null)
            return new Refusal("fault-unknown", "Choose a fault from the list.", "fault");
        if (note.Length > 500)
            return new Refusal("note-long", "Say it in at most 500 characters.", "note");
        return State.IsEnd() || State == PieceState.Booked
            ? new Refusal("move-not-allowed", $"A piece that is {State.Words()} has no work to find fault with.")
            : new FaultFound(at, Current?.Number, fault, note.Trim(), photo);
    }

    /// <summary>Notes what an inspection found; only while Inspect is the next step or runs.</summary>
    public Result<PieceEvent> Inspect(Findings findings, DateTimeOffset at)
    {
        if (NextAttended is not { Kind: StepKind.Inspect } step)
            return new Refusal("not-at-inspect", "This piece is not up for inspection.");
        var wrong = findings.Faults();
        return wrong.Count > 0 ? Result<PieceEvent>.Refused(wrong) : new PieceInspected(at, step.Number, findings);
    }

    /// <summary>Says what a test piece has shown; only while Inspect is its next step or runs.</summary>
    public Result<PieceEvent> JudgeTest(TestOutcome outcome, string note, DateTimeOffset at, PictureId? photo = null)
    {
        if (!IsTest)
            return new Refusal("not-a-test", "This is no test piece.");
        if (NextAttended is not { Kind: StepKind.Inspect })
            return new Refusal("not-at-inspect", "This piece is not up for inspection.");
        if (outcome != TestOutcome.Good && string.IsNullOrWhiteSpace(note))
            return new Refusal("note-missing", "Say in a few words what the limits are, or what went wrong.", "note");
        return note.Length > 500
            ? new Refusal("note-long", "Say it in at most 500 characters.", "note")
            : new TestJudged(at, outcome, note.Trim(), photo);
    }

    /// <summary>Puts it aside.</summary>
    public Result<PieceEvent> Hold(string reason, DateTimeOffset at) => WithReason(reason, PieceMove.Hold, text => new PieceHeld(at, text));

    /// <summary>Takes it up again.</summary>
    public Result<PieceEvent> Release(string reason, DateTimeOffset at) =>
        WithReason(reason, PieceMove.Release, text => new PieceReleased(at, text));

    /// <summary>Sends it back to an earlier step.</summary>
    /// <param name="fromStep">Which.</param>
    /// <param name="reason">Why.</param>
    /// <param name="at">Now.</param>
    /// <param name="most">How often the workshop reworks a piece.</param>
    public Result<PieceEvent> Rework(int fromStep, string reason, DateTimeOffset at, int most = UsualReworks)
    {
        var from = items.Find(i => i.Number == fromStep);
        if (from is null || from.Kind.IsRest() || from.Number > (Current?.Number ?? int.MaxValue))
            return new Refusal("rework-step", "Choose a step that was already reached, and no rest.", "step");
        if (Reworks >= most)
            return new Refusal(
                "rework-limit",
                $"This piece was reworked {Reworks} times; more does not help it. Spoil or return it.",
                "step"
            );
        return WithReason(reason, PieceMove.Rework, text => new ReworkBegun(at, fromStep, text));
    }

    /// <summary>It is lost.</summary>
    public Result<PieceEvent> Spoil(string reason, DateTimeOffset at) =>
        WithReason(reason, PieceMove.Spoil, text => new PieceSpoiled(at, text));

    /// <summary>It goes back unworked.</summary>
    public Result<PieceEvent> Return(string reason, DateTimeOffset at) =>
        WithReason(reason, PieceMove.Return, text => new PieceReturned(at, text));

    /// <summary>Its order is called off: a customer's own piece that is here waits to be given back; anything else is back where it belongs.</summary>
    public Result<PieceEvent> CallOff(string reason, DateTimeOffset at) =>
        IsOwn && !IsTest && PieceTransitions.Allows(State, PieceMove.CallOff)
            ? WithReason(reason, PieceMove.CallOff, text => new PieceCalledOff(at, text))
            : Return(reason, at);

    /// <summary>It goes to the customer; every step must be closed. A test piece is the workshop's and stays.</summary>
    public Result<PieceEvent> HandOver(DateTimeOffset at) =>
        IsTest ? new Refusal("test-piece", "A test piece is not handed over.")
        : Current is { } open && State == PieceState.CheckedGood ? new Refusal("step-open", $"{open.Kind} is still to be done.")
        : Allow(PieceMove.HandOver, () => new PieceHandedOver(at));

    private Result<PieceEvent> Allow(PieceMove move, Func<PieceEvent> happens) =>
        PieceTransitions.Next(State, move).Then(_ => Result<PieceEvent>.Ok(happens()));

    private Result<PieceEvent> WithReason(string reason, PieceMove move, Func<string, PieceEvent> happens)
    {
        if (string.IsNullOrWhiteSpace(reason))
            return new Refusal("reason-missing", "Say why, in a few words.", "reason");
        return reason.Length > 500
            ? new Refusal("reason-long", "Say it in at most 500 characters.", "reason")
            : Allow(move, () => happens(reason.Trim()));
    }
}
