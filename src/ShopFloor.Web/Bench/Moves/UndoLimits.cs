using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Lots;
using ShopFloor.Web.Bench.Photos;
using ShopFloor.Web.Bench.TestPieces;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>
/// What cannot be taken back with a tap: what was not done at the Bench, a lot that was barred, anything of an order that was called off,
/// and the end of a piece whose line has as many as were ordered without it, or gave its number to another.
/// </summary>
public static class UndoLimits
{
    /// <summary>What is taken back by one step: commands bear the names of their use cases.</summary>
    public static IReadOnlySet<string> AtTheBench { get; } =
        new HashSet<string>(StringComparer.Ordinal)
        {
            nameof(ReceivePieces),
            nameof(StartStep),
            nameof(FinishStep),
            nameof(InspectPieces),
            nameof(ReportFault),
            nameof(ReleasePieces),
            nameof(ReturnPieces),
            nameof(HandOver),
            nameof(MakeAnother),
            nameof(UndoLast),
            nameof(StartBatch),
            nameof(FinishBatch),
            nameof(StopBatch),
            nameof(BringStationBack),
            nameof(MakeTestPiece),
            nameof(JudgeTest),
            nameof(TakePhoto),
        };

    /// <summary>Why a command's moves stay; null: they may be taken back as far as this goes.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="command">The command.</param>
    /// <param name="pieces">The pieces it moved, as they are now.</param>
    /// <param name="cancel">Ends the reading.</param>
    internal static async Task<Refusal?> AskAsync(ShopContext context, Guid command, IReadOnlyList<Piece> pieces, CancellationToken cancel)
    {
        if (await context.Commands.Where(c => c.Id == command).Select(c => c.Name).FirstOrDefaultAsync(cancel) is not { } name)
            return new Refusal("undo-too-old", "This is too long ago to take back. Use rework, or put the piece aside.");
        // The cans would stay barred while all that was sprayed from them ran on unlooked at.
        if (name == nameof(HoldLot))
            return new Refusal(
                "lot-barred",
                "Its lot was barred: scan the can to free the lot, and take each piece up again after a look."
            );
        if (!AtTheBench.Contains(name))
            return new Refusal("not-at-bench", "This was not done at the Bench: it is changed in the Office, where it was done.");
        var ids = pieces.Select(p => p.Order).ToHashSet();
        var off = await context.Orders.Where(o => ids.Contains(o.Id) && o.CancelledAt != null).Select(o => o.Number).ToListAsync(cancel);
        return off.Count > 0
            ? new Refusal("order-off", $"Order {off[0]} was called off: nothing of it is taken back here.")
            : await SurplusAsync(context, command, pieces, cancel);
    }

    /// <summary>True when the last move of a piece may be taken back.</summary>
    internal static async Task<bool> MayAsync(ShopContext context, Piece piece, CancellationToken cancel)
    {
        var journal = await context.Journal.AsNoTracking().Where(j => j.Piece == piece.Id).OrderBy(j => j.Sequence).ToListAsync(cancel);
        return UndoRule.Last(journal.ConvertAll(j => new JournalLine(j.Id, j.Command, j.Read()))) is { } last
            && await AskAsync(context, last[0].Command, [piece], cancel) is null;
    }

    // Meanwhile the line may have been left out or made smaller, or another piece took the lost one's place.
    private static async Task<Refusal?> SurplusAsync(
        ShopContext context,
        Guid command,
        IReadOnlyList<Piece> pieces,
        CancellationToken cancel
    )
    {
        var ended = pieces.Where(p => !p.State.IsThere()).Select(p => p.Id).ToList();
        if (ended.Count == 0)
            return null;
        var moves = await context.Journal.AsNoTracking().Where(j => j.Command == command && ended.Contains(j.Piece)).ToListAsync(cancel);
        var ends = moves.Where(j => j.Read() is PieceSpoiled or PieceReturned).Select(j => j.Piece).ToHashSet();
        foreach (var back in pieces.Where(p => ends.Contains(p.Id)).GroupBy(p => p.Line))
        {
            var (line, id) = (back.Key, back.First().Order);
            var order = await context.Orders.AsNoTracking().FirstAsync(o => o.Id == id, cancel);
            var ordered = order.AllLines.First(l => l.Id == line).Quantity;
            var there = (await context.Pieces.AsNoTracking().Where(p => p.Line == line).ToListAsync(cancel)).FindAll(LinePieces.IsThere);
            var coming = back.Count(p => !p.IsTest);
            if (ordered == 0 || (coming > 0 && there.Count + coming > ordered))
                return new Refusal(
                    "none-missing",
                    $"Order {order.Number} has as many pieces as it asks for without {back.First().Code}: it cannot come back."
                );
            if (NumberTaken(back, there) is { } taken)
                return taken;
        }
        return null;
    }

    // What was made meanwhile may have the number that the one on the shelf left free.
    private static Refusal? NumberTaken(IEnumerable<Piece> back, List<Piece> there) =>
        back.Where(p => !p.IsTest)
            .Select(p => (Piece: p, Other: there.Find(t => t.Number == p.Number)))
            .FirstOrDefault(p => p.Other is not null)
            is { Other: { } other } pair
            ? new Refusal(
                "number-taken",
                $"{other.Code} is piece {other.Number} of its line now: {pair.Piece.Code} cannot come back. Make another in the place of one that is missing."
            )
            : null;
}
