using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Office.Orders;

/// <summary>How many pieces of an order stand at a step.</summary>
/// <param name="Word">The step in words of the workshop, e.g. <c>Spray white base</c>.</param>
/// <param name="IsRunning">It has begun; else it is the next.</param>
/// <param name="Count">How many pieces.</param>
public sealed record StepCount(string Word, bool IsRunning, int Count)
{
    /// <summary>Whether it runs or comes next, in a word.</summary>
    public static string Begun(bool isRunning) => isRunning ? "running" : "next";

    /// <summary>The steps of the pieces that somebody can go on with, the furthest behind first.</summary>
    internal static async Task<Dictionary<OrderId, IReadOnlyList<StepCount>>> ReadAsync(
        ShopContext context,
        IReadOnlyList<OrderId> orders,
        CancellationToken cancel
    )
    {
        var open = await context
            .Pieces.AsNoTracking()
            .Where(p => orders.Contains(p.Order) && !p.IsTest && OpenStates.Workable.Contains(p.State))
            .Join(context.Set<WorkItem>(), p => p.Id, i => i.Piece, (p, i) => new { p.Order, Item = i })
            .Where(x => x.Item.State != WorkState.Done && x.Item.State != WorkState.Skipped)
            .Where(x =>
                !context
                    .Set<WorkItem>()
                    .Any(o =>
                        o.Piece == x.Item.Piece && o.Number < x.Item.Number && o.State != WorkState.Done && o.State != WorkState.Skipped
                    )
            )
            .Select(x => new
            {
                x.Order,
                x.Item.Number,
                x.Item.Settings,
                x.Item.State,
            })
            .ToListAsync(cancel);
        return open.GroupBy(i => i.Order)
            .ToDictionary(
                g => g.Key,
                IReadOnlyList<StepCount> (g) =>
                    [
                        .. g.OrderBy(i => i.Number)
                            .GroupBy(i => (Word: StepWords.Of(i.Settings), IsRunning: i.State == WorkState.Running))
                            .Select(s => new StepCount(s.Key.Word, s.Key.IsRunning, s.Count())),
                    ]
            );
    }
}
