using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared.Drawing;

namespace ShopFloor.Web.Office.Plans;

/// <summary>Which pieces of a plan are drawn round: the plan itself only knows how much room each takes.</summary>
internal static class RoundPieces
{
    /// <summary>Codes of those that lie in a load or a session.</summary>
    internal static async Task<IReadOnlySet<string>> OfAsync(ShopContext context, Plan plan, CancellationToken cancel)
    {
        var codes = plan.Batches.SelectMany(b => b.Places).Select(p => p.Piece).Distinct(StringComparer.Ordinal).ToList();
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => codes.Contains(p.Code))
            .Select(p => new
            {
                p.Code,
                p.Order,
                p.Line,
            })
            .ToListAsync(cancel);
        var orders = pieces.Select(p => p.Order).Distinct().ToList();
        var lines = await context.Orders.AsNoTracking().Where(o => orders.Contains(o.Id)).SelectMany(o => o.Lines).ToListAsync(cancel);
        var round = lines.Where(l => BatchSheet.OutlineOf(l.Piece) == Outline.Ellipse).Select(l => l.Id).ToHashSet();
        return pieces.Where(p => round.Contains(p.Line)).Select(p => p.Code).ToHashSet(StringComparer.Ordinal);
    }
}
