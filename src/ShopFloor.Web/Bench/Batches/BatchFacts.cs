using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Layout;
using Shelf = ShopFloor.Domain.Stations.Shelf;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>What a batch is put together from: the members as they lie, and the station's surfaces.</summary>
internal sealed record BatchFacts(Station Station, IReadOnlyList<Piece> Pieces, IReadOnlyDictionary<OrderLineId, OrderLine> Lines)
{
    internal static async Task<BatchFacts> LoadAsync(
        ShopContext context,
        Station station,
        IReadOnlyList<Piece> pieces,
        CancellationToken cancel
    )
    {
        var orders = pieces.Select(p => p.Order).Distinct().ToList();
        var lines = await context.Orders.AsNoTracking().Where(o => orders.Contains(o.Id)).SelectMany(o => o.Lines).ToListAsync(cancel);
        return new BatchFacts(station, pieces, lines.ToDictionary(l => l.Id));
    }

    internal IReadOnlyList<BatchMember> Members =>
        [.. Pieces.Select(p => new BatchMember(p.Id, p.Code, p.NextAttended!.Settings, Lines[p.Line].Piece.Thickness))];

    /// <summary>Shown minus true, °C.</summary>
    internal decimal ErrorCelsius =>
        Station.Settings switch
        {
            OvenSettings oven => oven.ErrorCelsius,
            PressSettings press => press.ErrorCelsius,
            _ => 0,
        };

    internal Length? Tolerance => Station.Settings is PressSettings { Wraps: false } press ? press.ThicknessTolerance : null;

    /// <summary>Where each piece lies, in the order of the pieces; null when they do not all fit.</summary>
    internal IReadOnlyList<Place>? Places()
    {
        var (surfaces, spacing) = Surfaces(Station.Settings);
        if (surfaces.Count == 0)
            return [.. Pieces.Select((_, i) => new Place(i, 0, 0, 0, false))];
        var task = LayoutTask.Create(surfaces, spacing, [.. Pieces.Select(Footprint)]);
        if (task.Faults.Count > 0)
            return null;
        return new FitCheck(task).TryPlace([.. Enumerable.Range(0, Pieces.Count)])?.OrderBy(p => p.Piece).ToList();
    }

    internal Footprint Footprint(Piece piece)
    {
        var (width, depth, high) = Lines[piece.Line].Piece.Room;
        return new Footprint(piece.Code, Whole(width), Whole(depth), Whole(high), true);
    }

    internal static (IReadOnlyList<Surface> Surfaces, Spacing Spacing) Surfaces(StationSettings settings) =>
        settings switch
        {
            OvenSettings oven => ([.. oven.Shelves.Select(Of)], new Spacing(Whole(oven.Margin), Whole(oven.Gap))),
            // One round piece at a time: beside the widest there is no room for a second one.
            PressSettings { Wrap: { } wrap } => (
                [new Surface(Whole(wrap.Widest), Whole(wrap.Widest), Whole(wrap.Tallest))],
                new Spacing(0, Whole(wrap.Widest))
            ),
            PressSettings press => (
                [new Surface(Whole(press.Width), Whole(press.Depth), Whole(press.Thickest))],
                new Spacing(Whole(press.Margin), Whole(press.Gap))
            ),
            _ => ([], default),
        };

    private static Surface Of(Shelf shelf) => new(Whole(shelf.Width), Whole(shelf.Depth), Whole(shelf.Clear));

    private static int Whole(Length length) => (int)length.Micrometres;
}
