using System.Text.Json.Serialization;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>
/// One thing that happened to a piece. The journal keeps them in order and a piece's state is what they add up to. Instants are UTC.
/// </summary>
/// <param name="At">When it happened.</param>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(PieceBooked), "booked")]
[JsonDerivedType(typeof(PieceReceived), "received")]
[JsonDerivedType(typeof(StepStarted), "step started")]
[JsonDerivedType(typeof(StepFinished), "step finished")]
[JsonDerivedType(typeof(StepSkipped), "step skipped")]
[JsonDerivedType(typeof(StepBrokenOff), "step broken off")]
[JsonDerivedType(typeof(PictureBound), "picture bound")]
[JsonDerivedType(typeof(PieceInspected), "inspected")]
[JsonDerivedType(typeof(FaultFound), "fault found")]
[JsonDerivedType(typeof(TestJudged), "test judged")]
[JsonDerivedType(typeof(PieceHeld), "held")]
[JsonDerivedType(typeof(PieceReleased), "released")]
[JsonDerivedType(typeof(ReworkBegun), "rework begun")]
[JsonDerivedType(typeof(PieceSpoiled), "spoiled")]
[JsonDerivedType(typeof(PieceReturned), "returned")]
[JsonDerivedType(typeof(PieceCalledOff), "called off")]
[JsonDerivedType(typeof(PieceHandedOver), "handed over")]
[JsonDerivedType(typeof(MovesUndone), "undone")]
public abstract record PieceEvent(DateTimeOffset At)
{
    /// <summary>Version of the payload's form, written beside each entry.</summary>
    public const int PayloadVersion = 1;
}

/// <summary>The piece was agreed; its steps are the recipe's copy fitted to it. Photos show its condition as it was brought.</summary>
public sealed record PieceBooked(
    DateTimeOffset At,
    string Code,
    OrderId Order,
    OrderLineId Line,
    int Number,
    bool IsOwn,
    string? Tray,
    IReadOnlyList<RecipeStep> Steps,
    bool IsTest = false,
    IReadOnlyList<PictureId>? Photos = null
) : PieceEvent(At);

/// <summary>It came in.</summary>
public sealed record PieceReceived(DateTimeOffset At) : PieceEvent(At);

/// <summary>A step began. Where, from which can; alone or in a batch.</summary>
/// <param name="At">When.</param>
/// <param name="Step">Which, from 1.</param>
/// <param name="Batch">The round, load or session it is part of.</param>
/// <param name="Station">Where.</param>
/// <param name="Can">The can that is sprayed from.</param>
/// <param name="Decision">Why it went on outside its window, when it did.</param>
public sealed record StepStarted(DateTimeOffset At, int Step, BatchId? Batch, StationId? Station, CanId? Can, string? Decision)
    : PieceEvent(At);

/// <summary>A step ended.</summary>
/// <param name="At">When.</param>
/// <param name="Step">Which, from 1.</param>
/// <param name="Measured">What was read off, e.g. the oven's true temperature.</param>
/// <param name="Decision">Why it ended outside its window, when it did.</param>
public sealed record StepFinished(DateTimeOffset At, int Step, string? Measured, string? Decision) : PieceEvent(At);

/// <summary>A step was left out, with the reason.</summary>
public sealed record StepSkipped(DateTimeOffset At, int Step, string Reason) : PieceEvent(At);

/// <summary>A running step was broken off, for instance by a power cut: it is open again and has to be done anew.</summary>
/// <param name="At">When.</param>
/// <param name="Step">Which, from 1.</param>
/// <param name="Reason">Why.</param>
public sealed record StepBrokenOff(DateTimeOffset At, int Step, string Reason) : PieceEvent(At);

/// <summary>At Tape the piece met its print: from here on it has a name.</summary>
public sealed record PictureBound(DateTimeOffset At, PictureId? Picture, string? Text) : PieceEvent(At);

/// <summary>A fault was seen; what follows from it is an event of its own.</summary>
/// <param name="At">When.</param>
/// <param name="Step">The step it was seen at.</param>
/// <param name="Fault">Key in <see cref="FaultList"/>.</param>
/// <param name="Note">In the person's words; may be empty.</param>
/// <param name="Photo">A photo of it.</param>
public sealed record FaultFound(DateTimeOffset At, int? Step, string Fault, string Note, PictureId? Photo = null) : PieceEvent(At);

/// <summary>Somebody looked at it and judged it; what follows is an event of its own.</summary>
/// <param name="At">When.</param>
/// <param name="Step">The inspection's step, from 1.</param>
/// <param name="Findings">What was seen and measured.</param>
public sealed record PieceInspected(DateTimeOffset At, int Step, Findings Findings) : PieceEvent(At);

/// <summary>What a test piece has shown about its material.</summary>
/// <param name="At">When.</param>
/// <param name="Outcome">Good, with limits, or no.</param>
/// <param name="Note">The limits, or what was seen; may be empty when good.</param>
/// <param name="Photo">A photo of it.</param>
public sealed record TestJudged(DateTimeOffset At, TestOutcome Outcome, string Note, PictureId? Photo = null) : PieceEvent(At);

/// <summary>Put aside.</summary>
public sealed record PieceHeld(DateTimeOffset At, string Reason) : PieceEvent(At);

/// <summary>Taken up again.</summary>
public sealed record PieceReleased(DateTimeOffset At, string Reason) : PieceEvent(At);

/// <summary>Back to an earlier step; that step and all after it are open again.</summary>
public sealed record ReworkBegun(DateTimeOffset At, int FromStep, string Reason) : PieceEvent(At);

/// <summary>Lost.</summary>
public sealed record PieceSpoiled(DateTimeOffset At, string Reason) : PieceEvent(At);

/// <summary>Given back unworked.</summary>
public sealed record PieceReturned(DateTimeOffset At, string Reason) : PieceEvent(At);

/// <summary>Its order was called off, and it waits here to be given back.</summary>
public sealed record PieceCalledOff(DateTimeOffset At, string Reason) : PieceEvent(At);

/// <summary>With the customer.</summary>
public sealed record PieceHandedOver(DateTimeOffset At) : PieceEvent(At);

/// <summary>Earlier entries do not count any more; they stay in the journal.</summary>
/// <param name="At">When.</param>
/// <param name="Entries">The entries taken back.</param>
/// <param name="Reason">Why.</param>
public sealed record MovesUndone(DateTimeOffset At, IReadOnlyList<EntryId> Entries, string Reason) : PieceEvent(At);
