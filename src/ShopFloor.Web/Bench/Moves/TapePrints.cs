using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Gives a piece its print at Tape: one of those that <see cref="PieceTexts"/> says are open, and each once.</summary>
internal static class TapePrints
{
    /// <summary>Binds the piece to the print that was named, or to the next of its line.</summary>
    internal static async Task<Result<Done>> BindNextAsync(CommandWork work, Piece piece, string? text, CancellationToken cancel)
    {
        var line = await LineAsync(work.Context, piece, cancel);
        if (piece.IsTest)
            return work.Happen(piece, piece.Bind(line.Picture, "test", work.Now));
        var open = PieceTexts.Open(line, piece, await SiblingsAsync(work.Context, piece, cancel));
        if (line.Texts.Count <= 1)
            return work.Happen(piece, piece.Bind(line.Picture, line.Texts.Count == 1 ? line.Texts[0] : null, work.Now));
        if (open.Count == 0)
            return new Refusal("print-missing", "Every print of this line is on a piece already. Look for a mix-up before you go on.");
        var chosen = text ?? open[0];
        return open.Contains(chosen, StringComparer.Ordinal)
            ? work.Happen(piece, piece.Bind(line.Picture, chosen, work.Now))
            : new Refusal("print-taken", $"The print \"{chosen}\" is on another piece already, or not of this line.", "text");
    }

    private static async Task<OrderLine> LineAsync(ShopContext context, Piece piece, CancellationToken cancel) =>
        await context
            .Orders.Where(o => o.Id == piece.Order)
            .SelectMany(o => o.Lines)
            .AsNoTracking()
            .FirstAsync(l => l.Id == piece.Line, cancel);

    // Pieces bound earlier in the same command are not in the database yet, so the tracked ones count.
    private static async Task<IReadOnlyList<Piece>> SiblingsAsync(ShopContext context, Piece piece, CancellationToken cancel)
    {
        await context.Pieces.Where(p => p.Line == piece.Line).LoadAsync(cancel);
        return [.. context.Pieces.Local.Where(p => p.Line == piece.Line)];
    }
}
