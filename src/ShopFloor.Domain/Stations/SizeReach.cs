using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>The largest piece that a station takes.</summary>
/// <param name="InOven">An oven's shelf; else a press.</param>
/// <param name="Long">Its longer side; for a wrap press the largest diameter.</param>
/// <param name="Short">Its shorter side; for a wrap press the largest diameter.</param>
/// <param name="Thick">The thickest, or the highest of pieces that stand.</param>
public sealed record SizeReach(bool InOven, Length Long, Length Short, Length Thick)
{
    /// <summary>For a wrap press the least diameter; else null.</summary>
    public Length? Least { get; init; }

    /// <summary>What the shelves of an oven, or a press, take; none for other stations.</summary>
    public static IEnumerable<SizeReach> Of(StationSettings settings) =>
        settings switch
        {
            OvenSettings oven => oven.Shelves.Select(s => Of(true, (s.Width, s.Depth, s.Clear), oven.Margin)),
            PressSettings { Wrap: { } wrap } => [new SizeReach(false, wrap.Widest, wrap.Widest, wrap.Tallest) { Least = wrap.Thinnest }],
            PressSettings press => [Of(false, (press.Width, press.Depth, press.Thickest), press.Margin)],
            _ => [],
        };

    /// <summary>
    /// The largest that the ovens, or the presses for its form, take, when none of them takes a piece of that size: it lies flat, a cylinder
    /// stands on its end, one way or turned by a right angle. Null when one does, where there is no such station at all, and as far as a size
    /// is not known yet: it is zero.
    /// </summary>
    public static SizeReach? Missed(PieceDescription piece, IEnumerable<SizeReach> reaches) =>
        reaches
            .Where(r => r.InOven || r.Least is null != (piece.Form == Form.Cylinder))
            .GroupBy(r => r.InOven)
            .Where(g => !g.Any(r => r.Takes(piece)))
            .Select(g => g.OrderByDescending(r => r.Thick >= piece.Room.High).ThenByDescending(r => r.Area).First())
            .MinBy(r => r.Area);

    private long Area => Long.Micrometres / 1000 * (Short.Micrometres / 1000);

    private bool Takes(PieceDescription piece)
    {
        var (width, depth, high) = piece.Room;
        return Math.Max(width.Micrometres, depth.Micrometres) <= Long.Micrometres
            && Math.Min(width.Micrometres, depth.Micrometres) <= Short.Micrometres
            && high <= Thick
            && (Least is not { } least || width == Length.Zero || width >= least);
    }

    private static SizeReach Of(bool inOven, (Length Width, Length Depth, Length Thick) surface, Length margin)
    {
        Length Inside(long micrometres) => Length.FromMicrometres(Math.Max(0, micrometres - 2 * margin.Micrometres));
        var (one, other) = (surface.Width.Micrometres, surface.Depth.Micrometres);
        return new SizeReach(inOven, Inside(Math.Max(one, other)), Inside(Math.Min(one, other)), surface.Thick);
    }
}
