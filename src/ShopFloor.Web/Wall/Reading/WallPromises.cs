using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>The promises of today and those that are over, with the time to spare by the plan.</summary>
internal static class WallPromises
{
    internal static IReadOnlyList<PromiseLine> Of(WorkNow now, DateTimeOffset at)
    {
        var work = now.Work;
        var today = work.Settings.Day(at);
        var ends = now.Plan?.PieceEnds() ?? new Dictionary<string, DateTimeOffset>(StringComparer.Ordinal);
        return
        [
            .. work
                .Pieces.GroupBy(p => p.Order)
                .Select(g => (Order: work.Orders[g.Key], Pieces: g.ToList()))
                .Where(o => work.Settings.Day(o.Order.PromisedAt) <= today && o.Pieces.Exists(p => p.State != PieceState.CheckedGood))
                .OrderBy(o => o.Order.PromisedAt)
                .ThenBy(o => o.Order.Number)
                .Select(o => Line(o.Order, o.Pieces, ends)),
        ];
    }

    private static PromiseLine Line(Bench.Reading.OrderFacts order, List<Piece> pieces, IReadOnlyDictionary<string, DateTimeOffset> ends)
    {
        var open = pieces.Where(p => p.State != PieceState.CheckedGood).ToList();
        var planned = open.All(p => ends.ContainsKey(p.Code));
        var spare = planned ? order.PromisedAt - open.Max(p => ends[p.Code]) : (TimeSpan?)null;
        return new PromiseLine(order.Number, pieces.Count - open.Count, pieces.Count, order.PromisedAt, spare);
    }
}
