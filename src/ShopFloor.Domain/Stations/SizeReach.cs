using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Domain.Stations;

/// <summary>The largest flat piece that a station takes.</summary>
/// <param name="InOven">An oven's shelf; else a press's platen.</param>
/// <param name="Long">Its longer side.</param>
/// <param name="Short">Its shorter side.</param>
/// <param name="Thick">The thickest.</param>
public sealed record SizeReach(bool InOven, Length Long, Length Short, Length Thick)
{
    /// <summary>What the shelves of an oven, or the platen of a flat press, take; none for other stations.</summary>
    public static IEnumerable<SizeReach> Of(StationSettings settings) =>
        settings switch
        {
            OvenSettings oven => oven.Shelves.Select(s => Of(true, (s.Width, s.Depth, s.Clear), oven.Margin)),
            PressSettings { Wraps: false } press => [Of(false, (press.Width, press.Depth, press.Thickest), press.Margin)],
            _ => [],
        };

    /// <summary>
    /// The largest that the ovens, or the presses, take, when none of them takes a piece of that size: it lies flat, one way or turned by a
    /// right angle. Null when one does, for cylinders, and where there is no such station at all.
    /// </summary>
    public static SizeReach? Missed(PieceDescription piece, IEnumerable<SizeReach> reaches) =>
        piece.Form == Form.Cylinder
            ? null
            : reaches
                .GroupBy(r => r.InOven)
                .Where(g => !g.Any(r => r.Takes(piece)))
                .Select(g => g.OrderByDescending(r => r.Thick >= piece.Thickness).ThenByDescending(r => r.Area).First())
                .MinBy(r => r.Area);

    private long Area => Long.Micrometres / 1000 * (Short.Micrometres / 1000);

    private bool Takes(PieceDescription piece) =>
        Math.Max(piece.Width.Micrometres, piece.BoxHeight.Micrometres) <= Long.Micrometres
        && Math.Min(piece.Width.Micrometres, piece.BoxHeight.Micrometres) <= Short.Micrometres
        && piece.Thickness <= Thick;

    private static SizeReach Of(bool inOven, (Length Width, Length Depth, Length Thick) surface, Length margin)
    {
        Length Inside(long micrometres) => Length.FromMicrometres(Math.Max(0, micrometres - 2 * margin.Micrometres));
        var (one, other) = (surface.Width.Micrometres, surface.Depth.Micrometres);
        return new SizeReach(inOven, Inside(Math.Max(one, other)), Inside(Math.Min(one, other)), surface.Thick);
    }
}
