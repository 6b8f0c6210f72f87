using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Where members lie on shelves and platens.</summary>
internal static class PlaceRules
{
    private readonly record struct Box(string Piece, int Shelf, long X, long Y, long W, long D);

    public static void Check(Sheet sheet)
    {
        foreach (var batch in sheet.Batches.Where(b => b.Batch.Kind is BatchKinds.Load or BatchKinds.Session))
            if (batch.Tasks.FirstOrDefault()?.Station is HeatedStation station)
                Check(sheet, batch, station);
    }

    private static void Check(Sheet sheet, BatchEntry batch, HeatedStation station)
    {
        var boxes = new List<Box>();
        foreach (var (place, piece, _) in Members.Of(sheet, batch.Batch))
        {
            if (place.Turned && !piece.MayTurn)
                Members.Report(sheet, "place-turned", batch, $"{piece.Id} may not be turned", 0, piece.Id);
            if (ShelfOf(station, place) is not { } shelf)
            {
                sheet.Report("unknown-name", $"{station.Id} has no shelf {place.Shelf}", 0, null, [piece.Id], [batch.Batch.Id]);
                continue;
            }
            var box = new Box(
                piece.Id,
                place.Shelf ?? 0,
                place.XUm,
                place.YUm,
                place.Turned ? piece.DepthUm : piece.WidthUm,
                place.Turned ? piece.WidthUm : piece.DepthUm
            );
            boxes.Add(box);
            Inside(sheet, batch, station, shelf, box);
            if (station is Oven && piece.ThicknessUm > shelf.ClearUm)
                Members.Report(sheet, "place-too-high", batch, $"{piece.Id} is too high", piece.ThicknessUm - shelf.ClearUm, piece.Id);
        }
        Overlaps(sheet, batch, station.GapUm, boxes);
    }

    private static Shelf? ShelfOf(HeatedStation station, Place place) =>
        station switch
        {
            Press press => place.Shelf is null ? new Shelf(press.WidthUm, press.DepthUm, int.MaxValue) : null,
            Oven oven when place.Shelf is { } n && n >= 1 && n <= oven.Shelves.Count => oven.Shelves[n - 1],
            _ => null,
        };

    private static void Inside(Sheet sheet, BatchEntry batch, HeatedStation station, Shelf shelf, Box b)
    {
        long margin = station.MarginUm;
        var outside = Math.Max(
            Math.Max(margin - b.X, margin - b.Y),
            Math.Max(b.X + b.W + margin - shelf.WidthUm, b.Y + b.D + margin - shelf.DepthUm)
        );
        if (outside > 0)
            Members.Report(sheet, "place-outside", batch, $"{b.Piece} lies over the margin", outside, b.Piece);
    }

    private static void Overlaps(Sheet sheet, BatchEntry batch, long gap, List<Box> boxes)
    {
        for (var i = 0; i < boxes.Count; i++)
        for (var j = i + 1; j < boxes.Count; j++)
        {
            var (a, b) = (boxes[i], boxes[j]);
            var apart = Math.Max(Math.Max(b.X - a.X - a.W, a.X - b.X - b.W), Math.Max(b.Y - a.Y - a.D, a.Y - b.Y - b.D));
            if (a.Shelf == b.Shelf && apart < gap)
                Members.Report(sheet, "place-overlap", batch, $"{a.Piece} and {b.Piece} lie too close", gap - apart, a.Piece, b.Piece);
        }
    }
}
