using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>What a wrap press takes: round pieces, one at a time, heated all round.</summary>
/// <param name="Thinnest">Least outer diameter.</param>
/// <param name="Widest">Largest outer diameter.</param>
/// <param name="Tallest">Largest height of a piece.</param>
/// <param name="LeastSeconds">Shortest time under heat, seconds.</param>
/// <param name="MostSeconds">Longest time under heat, seconds.</param>
public sealed record WrapFit(Length Thinnest, Length Widest, Length Tallest, int LeastSeconds, int MostSeconds)
{
    /// <summary>Whether a round piece is wide enough, and not too wide or too tall.</summary>
    public bool Takes(PieceDescription piece) => piece.Thickness >= Thinnest && piece.Thickness <= Widest && piece.Height <= Tallest;

    /// <summary>How the print lies in it.</summary>
    public const string LayUp = "print round the piece, picture inwards";

    /// <summary>150 to 240 s (common practice, no source), for pieces 70 to 95 mm across and up to 130 mm high (invented, to be measured).</summary>
    public static WrapFit Usual { get; } =
        new(Length.FromMillimetres(70), Length.FromMillimetres(95), Length.FromMillimetres(130), 150, 240);
}
