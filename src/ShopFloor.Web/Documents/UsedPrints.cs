using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Documents;

/// <summary>Pieces that went back to Tape or to before it after their print was on: that print is used up, and they need another.</summary>
internal static class UsedPrints
{
    /// <summary>Since when the print of such a piece is used up, by the code of the piece; only of those that are still to be taped.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="only">Of these orders; null: of all.</param>
    /// <param name="cancel">Ends the reading.</param>
    internal static async Task<IReadOnlyDictionary<string, DateTimeOffset>> OfAsync(
        ShopContext context,
        IReadOnlyCollection<OrderId>? only,
        CancellationToken cancel
    )
    {
        var back = PrintedParts.Open(context, only).Where(p => p.Reworks > 0 && !p.IsBound);
        var used = new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        foreach (var piece in (await back.ToListAsync(cancel)).FindAll(TransferChoice.NeedsTransfer))
        {
            var journal = await context.Journal.AsNoTracking().Where(j => j.Piece == piece.Id).OrderBy(j => j.Sequence).ToListAsync(cancel);
            if (Since(piece, StepRuns.Counting(journal.ConvertAll(j => (j.Id, j.Read())))) is { } at)
                used[piece.Code] = at;
        }
        return used;
    }

    private static DateTimeOffset? Since(Piece piece, IReadOnlyList<PieceEvent> counting)
    {
        var tape = piece.Items.Where(i => i.Kind == StepKind.Tape).Max(i => i.Number);
        return counting
            .Reverse()
            .TakeWhile(e => e is not PictureBound)
            .OfType<ReworkBegun>()
            .LastOrDefault(r => r.FromStep <= tape && counting.Any(e => e is PictureBound))
            ?.At;
    }
}
