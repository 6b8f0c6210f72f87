using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;

namespace ShopFloor.Web.Office.Orders;

/// <summary>What the order list reads of an order itself.</summary>
public sealed record OrderHead(
    OrderId Id,
    int Number,
    string Name,
    DateTimeOffset BookedAt,
    DateTimeOffset PromisedAt,
    bool IsRush,
    bool IsCancelled
);

/// <summary>Orders by when the plan has them ready. The plan is no table: its orders, which are few, are put in order here, the rest by the
/// database.</summary>
internal static class PlannedFirst
{
    /// <summary>True for pieces that no plan has: they are not here yet, or somebody has to decide about them.</summary>
    public static bool IsUnplanned(PieceState state) => Unplanned.Contains(state);

    private static readonly PieceState[] Unplanned = [PieceState.Booked, PieceState.Held];

    /// <summary>When the plan has an order ready; null: not all of it is planned.</summary>
    public static DateTimeOffset? EndOf(IReadOnlyDictionary<string, DateTimeOffset> ends, int number) =>
        ends.TryGetValue(number.ToString(CultureInfo.InvariantCulture), out var end) ? end : null;

    /// <summary>One part: planned ones first, then the others, newest first.</summary>
    public static async Task<IReadOnlyList<OrderHead>> ReadAsync(
        (ShopContext Context, IQueryable<Order> Found) orders,
        IReadOnlyDictionary<string, DateTimeOffset> ends,
        OrderSpan span,
        CancellationToken cancel
    )
    {
        var (context, found) = orders;
        var waiting = context.Pieces.Where(p => !p.IsTest && Unplanned.Contains(p.State)).Select(p => p.Order);
        var planned = ends.Keys.Select(n => int.Parse(n, CultureInfo.InvariantCulture)).ToList();
        var asked = (
            await found.Where(o => planned.Contains(o.Number) && !waiting.Contains(o.Id)).Select(o => o.Number).ToListAsync(cancel)
        )
            .OrderBy(n => EndOf(ends, n))
            .ThenBy(n => n)
            .ToList();
        var first = asked.Skip(span.From).Take(span.Count).ToList();
        var heads = (await OrderListView.Heads(found.Where(o => first.Contains(o.Number))).ToListAsync(cancel)).ToDictionary(o => o.Number);
        var rest = found.Where(o => !planned.Contains(o.Number) || waiting.Contains(o.Id)).OrderByDescending(o => o.Number);
        var (from, most) = (Math.Max(0, span.From - asked.Count), span.Count - first.Count);
        return
        [
            .. first.Where(heads.ContainsKey).Select(n => heads[n]),
            .. await OrderListView.Heads(rest.Skip(from).Take(most)).ToListAsync(cancel),
        ];
    }
}
