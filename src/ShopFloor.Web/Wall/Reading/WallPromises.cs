using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>The promises of today and those that are over, with the time to spare by the plan.</summary>
internal static class WallPromises
{
    internal static IReadOnlyList<PromiseLine> Of(WorkNow now, DateTimeOffset at)
    {
        var work = now.Work;
        var today = work.Settings.Day(at);
        return
        [
            .. work
                .Pieces.GroupBy(p => p.Order)
                .Select(g => (Order: work.Orders[g.Key], Pieces: g.Where(p => !p.IsTest).ToList()))
                .Where(o => work.Settings.Day(o.Order.PromisedAt) <= today && o.Pieces.Exists(p => p.IsUnfinished))
                .OrderBy(o => o.Order.PromisedAt)
                .ThenBy(o => o.Order.Number)
                .Select(o => Line(o.Order, o.Pieces, now, at)),
        ];
    }

    private static PromiseLine Line(Bench.Reading.OrderFacts order, List<Piece> pieces, WorkNow now, DateTimeOffset at)
    {
        var open = pieces.Where(p => p.IsUnfinished).ToList();
        var planned = PlannedPromise.Of(now.Plan, order.PromisedAt, open);
        return new PromiseLine(
            order.Number,
            pieces.Count(p => p.State.IsGood()),
            pieces.Count,
            WallMoment.Of(order.PromisedAt, at, now.Work.Settings),
            planned.Spare,
            planned.LeftOut
        );
    }
}
