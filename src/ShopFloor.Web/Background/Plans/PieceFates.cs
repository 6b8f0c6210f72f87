using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Reads from the journal how pieces left the plan or came into it.</summary>
public static class PieceFates
{
    /// <summary>A word for each of the pieces, by code: what happened to it last between two places in the journal.</summary>
    /// <param name="context">The database.</param>
    /// <param name="codes">The pieces.</param>
    /// <param name="after">Entries up to here are known already.</param>
    /// <param name="until">The last entry that counts.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static async Task<IReadOnlyDictionary<string, string>> ReadAsync(
        ShopContext context,
        IReadOnlyCollection<string> codes,
        long after,
        long until,
        CancellationToken cancel
    )
    {
        if (codes.Count == 0)
            return new Dictionary<string, string>(StringComparer.Ordinal);
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => codes.Contains(p.Code))
            .Select(p => new { p.Id, p.Code })
            .ToDictionaryAsync(p => p.Id, p => p.Code, cancel);
        var ids = pieces.Keys.ToList();
        var entries = await context
            .Journal.AsNoTracking()
            .Where(j => j.Sequence > after && j.Sequence <= until && ids.Contains(j.Piece))
            .OrderBy(j => j.Sequence)
            .ToListAsync(cancel);
        var fates = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var entry in entries)
            if (Word(entry.Read()) is { } word)
                fates[pieces[entry.Piece]] = word;
        return fates;
    }

    private static string? Word(PieceEvent happened) =>
        happened switch
        {
            PieceSpoiled => "spoiled",
            PieceHeld => "put aside",
            PieceReturned => "given back",
            PieceCalledOff => "called off",
            PieceHandedOver => "handed over",
            PieceReceived => "received",
            PieceReleased => "taken up again",
            ReworkBegun => "back for rework",
            MovesUndone => "moves taken back",
            _ => null,
        };
}
