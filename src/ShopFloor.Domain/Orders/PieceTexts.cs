using ShopFloor.Domain.Pieces;

namespace ShopFloor.Domain.Orders;

/// <summary>
/// Which text of its line is a piece's. An own piece has the one of its number; of alike blanks any may take any that no other has, be it
/// booked with the line or made anew since.
/// </summary>
public static class PieceTexts
{
    /// <summary>The texts that the piece may still be given, in the order of the line; empty when all are alike.</summary>
    /// <param name="line">Its line.</param>
    /// <param name="piece">The piece.</param>
    /// <param name="siblings">The pieces of the line, also those that are with the customer already.</param>
    public static IReadOnlyList<string> Open(OrderLine line, Piece piece, IEnumerable<Piece> siblings)
    {
        if (line.Texts.Count <= 1 || piece.IsTest)
            return [];
        return piece.IsOwn ? [.. line.Texts.Skip(piece.Number - 1).Take(1)] : Left(line, siblings);
    }

    /// <summary>The text to be printed for the piece; null: none.</summary>
    /// <param name="line">Its line.</param>
    /// <param name="piece">The piece.</param>
    /// <param name="siblings">The pieces of the line, also those that are with the customer already.</param>
    public static string? Of(OrderLine line, Piece piece, IReadOnlyCollection<Piece> siblings)
    {
        if (line.Texts.Count <= 1 || piece.IsTest)
            return line.Texts.Count == 0 ? null : line.Texts[0];
        if (piece.IsBound)
            return piece.BoundText;
        return piece.IsOwn ? line.Texts.ElementAtOrDefault(piece.Number - 1) : Shared(line, siblings).GetValueOrDefault(piece.Id);
    }

    private static List<string> Left(OrderLine line, IEnumerable<Piece> siblings)
    {
        var left = line.Texts.ToList();
        foreach (var taken in siblings.Where(p => p.IsBound && LinePieces.IsThere(p)).Select(p => p.BoundText ?? ""))
            left.Remove(taken);
        return left;
    }

    /// <summary>Those that wait get the text of their number while it is left, and the others what is over.</summary>
    private static Dictionary<PieceId, string> Shared(OrderLine line, IReadOnlyCollection<Piece> siblings)
    {
        var left = Left(line, siblings);
        var shared = new Dictionary<PieceId, string>();
        var waiting = siblings.Where(p => !p.IsBound && LinePieces.IsThere(p)).OrderBy(p => p.Number).ToList();
        foreach (var piece in waiting)
            if (line.Texts.ElementAtOrDefault(piece.Number - 1) is { } text && left.Remove(text))
                shared[piece.Id] = text;
        foreach (var (piece, text) in waiting.Where(p => !shared.ContainsKey(p.Id)).ToList().Zip(left))
            shared[piece.Id] = text;
        return shared;
    }
}
