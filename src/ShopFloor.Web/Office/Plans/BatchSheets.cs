using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared.Drawing;

namespace ShopFloor.Web.Office.Plans;

/// <summary>A load or session as it is drawn.</summary>
/// <param name="Id">Its name in the plan.</param>
/// <param name="Kind">Oven load or press session.</param>
/// <param name="Facts">When, where, how hot, how long, how many.</param>
/// <param name="Why">Why it stands where it does.</param>
/// <param name="Surfaces">Shelves or platen that hold something.</param>
public sealed record PlannedBatch(string Id, string Kind, string Facts, string Why, IReadOnlyList<SurfaceSheet> Surfaces);

/// <summary>Draws the loads and sessions of a stretch of the plan to scale.</summary>
public static class BatchSheets
{
    /// <summary>Those that begin within the axis, by start; those of the codes are drawn round.</summary>
    public static IReadOnlyList<PlannedBatch> Of(
        Day day,
        Plan plan,
        TimelineAxis axis,
        (PlanWords Words, WhyWords Why) say,
        IReadOnlySet<string> round
    )
    {
        var pieces = day.Pieces.ToDictionary(
            p => p.Id,
            p => (p, round.Contains(p.Id) ? Outline.Ellipse : Outline.Rectangle),
            StringComparer.Ordinal
        );
        var batches =
            from batch in plan.Batches
            where batch.Places.Count > 0
            let first = plan.Tasks.Where(t => t.Batch == batch.Id).MinBy(t => t.StartS)
            where first is not null && first.StartS < axis.To && first.StartS >= axis.From
            orderby first.StartS, batch.Id
            select Sheet(day, plan, batch, first, pieces, say);
        return [.. batches];
    }

    private static PlannedBatch Sheet(
        Day day,
        Plan plan,
        Batch batch,
        PlanTask first,
        Dictionary<string, (Piece, Outline)> pieces,
        (PlanWords Words, WhyWords Why) say
    )
    {
        var station = (HeatedStation)day.Stations.First(s => s.Id == first.Station);
        var dwell =
            batch.PressS ?? plan.Tasks.Where(t => t.Batch == batch.Id && t.Kind == TaskKinds.Dwell).Sum(t => t.EndS - t.StartS) ?? 0;
        var dial = (batch.TenthsC!.Value + station.Heat.ErrorTenthsC) / 10m;
        var facts = string.Join(
            " · ",
            [
                say.Why.Of(first).When.Split(" – ")[0],
                say.Words.Name(station.Id),
                string.Create(CultureInfo.InvariantCulture, $"dial {dial:0.#} °C"),
                StepWords.Span(dwell),
                StepWords.Pieces(batch.Places.Count),
                .. batch.Pressure is { } pressure ? (string[])[$"pressure {pressure}", batch.LayUp ?? ""] : [],
            ]
        );
        return new PlannedBatch(
            batch.Id,
            batch.Kind == BatchKinds.Load ? "Oven load" : "Press session",
            facts,
            say.Why.Of(first).Why,
            Surfaces(station, batch, pieces)
        );
    }

    private static List<SurfaceSheet> Surfaces(HeatedStation station, Batch batch, Dictionary<string, (Piece, Outline)> pieces)
    {
        (double Width, double Depth)[] sizes = station switch
        {
            Oven oven => [.. oven.Shelves.Select(s => (s.WidthUm / 1000.0, s.DepthUm / 1000.0))],
            Press press => [(press.WidthUm / 1000.0, press.DepthUm / 1000.0)],
            _ => [],
        };
        var surfaces = sizes.Select(
            (size, i) =>
                new SurfaceSheet(
                    station is Oven
                        ? string.Create(CultureInfo.InvariantCulture, $"{PlannedName.Of(batch.Id)}, shelf {i + 1}")
                        : $"{PlannedName.Of(batch.Id)}, platen",
                    size.Width,
                    size.Depth,
                    [.. batch.Places.Where(p => (p.Shelf ?? 1) == i + 1).Select(p => Laid(p, pieces[p.Piece], size.Depth))]
                )
        );
        return [.. surfaces.Where(s => s.Places.Count > 0)];
    }

    // The plan counts from the front, the drawing from the back.
    private static LayoutPlace Laid(Place place, (Piece Piece, Outline Outline) laid, double depth)
    {
        var piece = laid.Piece;
        var (w, d) = (piece.WidthUm / 1000.0, piece.DepthUm / 1000.0);
        if (place.Turned)
            (w, d) = (d, w);
        return new LayoutPlace(piece.Id, place.XUm / 1000.0, depth - (place.YUm / 1000.0) - d, w, d, laid.Outline, place.Turned);
    }
}
