using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Counter.Booking;

/// <summary>Pieces of a line that are to be made.</summary>
/// <param name="Numbers">Their numbers within the line.</param>
/// <param name="Steps">Fitted to them.</param>
internal sealed record PiecesToBook(IReadOnlyList<int> Numbers, IReadOnlyList<RecipeStep> Steps)
{
    /// <summary>Photos of the condition they were brought in.</summary>
    public IReadOnlyList<PictureId> Photos { get; init; } = [];

    /// <summary>The tray of pieces alike that they join; null: one of their own.</summary>
    public string? Tray { get; init; }
}

/// <summary>Makes the numbered pieces of a line, each with its own copy of the recipe's steps: at booking, and when a line becomes more.</summary>
internal static class BookPieces
{
    /// <summary>Makes them; the answer are their codes.</summary>
    internal static async Task<IReadOnlyList<string>> AddAsync(
        CommandWork work,
        OrderId order,
        OrderLine line,
        PiecesToBook pieces,
        CancellationToken cancel
    )
    {
        var codes = new List<string>();
        var tray = await TrayAsync(work, line, pieces, cancel);
        foreach (var number in pieces.Numbers)
        {
            var piece = new Piece(new PieceId(Guid.CreateVersion7()));
            var code = ShortCode.FromNumber(await work.NextNumberAsync("code", cancel));
            var booked = new PieceBooked(work.Now, code, order, line.Id, number, line.Piece.IsOwn, tray, pieces.Steps);
            work.Happen(piece, pieces.Photos.Count > 0 ? booked with { Photos = pieces.Photos } : booked);
            work.Context.Pieces.Add(piece);
            codes.Add(code);
        }
        return codes;
    }

    /// <summary>Alike blanks travel as one tray until Tape; an own piece is itself from the start.</summary>
    private static async Task<string?> TrayAsync(CommandWork work, OrderLine line, PiecesToBook pieces, CancellationToken cancel)
    {
        if (line.Piece.IsOwn || pieces.Tray is not null)
            return pieces.Tray;
        return pieces.Numbers.Count <= 1 ? null : ShortCode.FromNumber(await work.NextNumberAsync("code", cancel));
    }
}
