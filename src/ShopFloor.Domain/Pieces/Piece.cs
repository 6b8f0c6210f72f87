using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>
/// One physical thing on its way through the workshop. Its verbs (in <c>PieceVerbs.cs</c>) judge a wish and answer with an event or a
/// refusal; <see cref="Apply"/> is the only place that changes state, so that the journal replayed gives the same piece.
/// </summary>
public sealed partial class Piece
{
    /// <summary>Reworks after which a piece is usually not sanded back again (common practice, no source).</summary>
    public const int UsualReworks = 2;

    private readonly List<WorkItem> items = [];

    private Piece() { }

    /// <summary>An empty piece that waits for its first event.</summary>
    public Piece(PieceId id) => Id = id;

    /// <summary>Names it.</summary>
    public PieceId Id { get; private set; }

    /// <summary>The short code on its label.</summary>
    public string Code { get; private set; } = "";

    /// <summary>The order it belongs to.</summary>
    public OrderId Order { get; private set; }

    /// <summary>The line of that order.</summary>
    public OrderLineId Line { get; private set; }

    /// <summary>Its number within the line, from 1.</summary>
    public int Number { get; private set; }

    /// <summary>True for the customer's own piece: it cannot be replaced.</summary>
    public bool IsOwn { get; private set; }

    /// <summary>Code of the tray it travels on with its like; null for a piece that is itself from the start.</summary>
    public string? Tray { get; private set; }

    /// <summary>True for a test piece: its result says whether the material takes the finish.</summary>
    public bool IsTest { get; private set; }

    /// <summary>Where it is in its life.</summary>
    public PieceState State { get; private set; }

    /// <summary>Where it goes back to when it is released.</summary>
    public PieceState? HeldFrom { get; private set; }

    /// <summary>Why it is held, reworked, spoiled or returned.</summary>
    public string? Reason { get; private set; }

    /// <summary>How often it went back to an earlier step.</summary>
    public int Reworks { get; private set; }

    /// <summary>True once Tape gave it its print.</summary>
    public bool IsBound { get; private set; }

    /// <summary>The picture that Tape bound it to.</summary>
    public PictureId? BoundPicture { get; private set; }

    /// <summary>The text that Tape bound it to.</summary>
    public string? BoundText { get; private set; }

    /// <summary>When anything last happened to it, UTC.</summary>
    public DateTimeOffset ChangedAt { get; private set; }

    /// <summary>Counts changes; guards against two people saving at once.</summary>
    public int Version { get; private set; }

    /// <summary>Its steps in order.</summary>
    public IReadOnlyList<WorkItem> Items => items;

    /// <summary>The first step that is not closed; null when all are.</summary>
    public WorkItem? Current => items.OrderBy(i => i.Number).FirstOrDefault(i => !i.IsClosed);

    /// <summary>The step that hands can do next: the current one, or the one after a rest that is running.</summary>
    public WorkItem? NextAttended => items.OrderBy(i => i.Number).FirstOrDefault(i => !i.IsClosed && !i.Kind.IsRest());

    /// <summary>True once anything was done to it: what was sent back to its first step is no blank any more, though no step of it has begun anew.</summary>
    public bool IsBegun => Reworks > 0 || items.Exists(i => i.StartedAt is not null);

    /// <summary>True when nothing more happens to it: its life has ended, or it was a test piece and has been judged.</summary>
    public bool IsOver => State.IsEnd() || (IsTest && State == PieceState.CheckedGood);

    /// <summary>True when a promise still waits for it: it is the customer's, not over, and something is left to do, be it packing.</summary>
    public bool IsUnfinished => !IsTest && !State.IsEnd() && !(State.IsGood() && Current is null);

    /// <summary>Changes the state by one event; the only place that does.</summary>
    public void Apply(PieceEvent happened)
    {
        PieceChanges.Apply(this, happened);
        ChangedAt = happened.At;
        Version++;
    }

    /// <summary>The state that a journal adds up to, entries taken back left out; the version counts on.</summary>
    /// <param name="journal">All entries of this piece, oldest first; the first books it.</param>
    public void Replay(IReadOnlyList<(EntryId Id, PieceEvent Event)> journal)
    {
        var undone = journal.Select(e => e.Event).OfType<MovesUndone>().SelectMany(u => u.Entries).ToHashSet();
        var version = Version;
        (State, HeldFrom, Reason, Reworks, IsBound, BoundPicture, BoundText) = (PieceState.Booked, null, null, 0, false, null, null);
        foreach (var (id, happened) in journal)
            if (!undone.Contains(id))
                Apply(happened);
        Version = Math.Max(version + 1, journal.Count);
        ChangedAt = journal.Count > 0 ? journal[^1].Event.At : ChangedAt;
    }

    internal void Become(PieceState state, string? reason = null) => (State, Reason) = (state, reason);

    internal void BecomeHeld(string reason) => (HeldFrom, State, Reason) = (State, PieceState.Held, reason);

    internal void BecomeReleased() => (State, HeldFrom, Reason) = (HeldFrom ?? PieceState.InWork, null, null);

    internal void CountRework() => (Reworks, HeldFrom) = (Reworks + 1, null);

    internal void BindTo(PictureId? picture, string? text) => (IsBound, BoundPicture, BoundText) = (true, picture, text);

    internal void Unbind() => (IsBound, BoundPicture, BoundText) = (false, null, null);

    internal void Begin(PieceBooked booked)
    {
        (Code, Order, Line, Number, IsOwn, Tray) = (booked.Code, booked.Order, booked.Line, booked.Number, booked.IsOwn, booked.Tray);
        IsTest = booked.IsTest;
        foreach (var step in booked.Steps)
        {
            if (items.Find(i => i.Number == step.Number) is { } existing)
                existing.Replace(step);
            else
                items.Add(new WorkItem(Id, step));
        }
    }
}
