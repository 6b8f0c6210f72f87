namespace ShopFloor.Domain.Pieces;

/// <summary>One entry of a piece's journal as the undo rule sees it.</summary>
/// <param name="Id">Names the entry.</param>
/// <param name="Command">The command that wrote it: what one tap did is taken back as a whole.</param>
/// <param name="Event">What happened.</param>
public sealed record JournalLine(EntryId Id, Guid Command, PieceEvent Event);

/// <summary>
/// What may be taken back: the last thing that one command did to a piece, within half a day, and never the booking. Taking back is an
/// entry of its own; it cannot be taken back itself, the move is simply done again.
/// </summary>
public static class UndoRule
{
    /// <summary>Older moves are corrected by rework, not taken back (common practice, no source).</summary>
    public static readonly TimeSpan MostAge = TimeSpan.FromHours(12);

    /// <summary>The lines of the command that may be taken back next; null when there is none.</summary>
    /// <param name="journal">All entries of one piece, oldest first.</param>
    public static IReadOnlyList<JournalLine>? Last(IReadOnlyList<JournalLine> journal)
    {
        var live = Live(journal);
        if (live.Count == 0 || live[^1].Event is PieceBooked)
            return null;
        return [.. live.Where(l => l.Command == live[^1].Command && l.Event is not PieceBooked)];
    }

    /// <summary>The event that takes a command's moves back, or why that is not possible any more.</summary>
    /// <param name="journal">All entries of one piece, oldest first.</param>
    /// <param name="command">The command whose moves are to be taken back.</param>
    /// <param name="at">Now.</param>
    /// <param name="reason">Why; goes into the journal.</param>
    public static Result<MovesUndone> TakeBack(IReadOnlyList<JournalLine> journal, Guid command, DateTimeOffset at, string reason)
    {
        var last = Last(journal);
        if (last is null || last[0].Command != command)
            return journal.Any(l => l.Command == command) && Live(journal).All(l => l.Command != command)
                ? new Refusal("undone-already", "This was taken back already.")
                : new Refusal("moved-on", "The piece has moved on since: only its last move can be taken back.");
        if (at - last[^1].Event.At > MostAge)
            return new Refusal("undo-too-old", "This is too long ago to take back. Use rework, or put the piece aside.");
        return new MovesUndone(at, [.. last.Select(l => l.Id)], reason);
    }

    private static List<JournalLine> Live(IReadOnlyList<JournalLine> journal)
    {
        var undone = journal.Select(l => l.Event).OfType<MovesUndone>().SelectMany(u => u.Entries).ToHashSet();
        return [.. journal.Where(l => l.Event is not MovesUndone && !undone.Contains(l.Id))];
    }
}
