using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Plans;

/// <summary>Pieces of an order that no plan has because they are not laid out yet.</summary>
/// <param name="Order">Its number.</param>
/// <param name="Own">The customer's own, which have not come yet.</param>
/// <param name="Blanks">The workshop's blanks, which only wait to be laid out.</param>
public sealed record NotHereRow(int Order, int Own, int Blanks);

/// <summary>Pieces that cannot be planned for one reason.</summary>
/// <param name="Coating">The coating that is missing; null: another reason.</param>
/// <param name="Why">The plan's reason in a sentence.</param>
/// <param name="Pieces">How many.</param>
/// <param name="Orders">Of which orders, by number.</param>
public sealed record CannotRow(string? Coating, string Why, int Pieces, IReadOnlyList<int> Orders)
{
    /// <summary>The reason in a few words, e.g. <c>too large</c>.</summary>
    public string Reason { get; init; } = "";
}

/// <summary>What is booked and stands in no plan.</summary>
/// <param name="NotHere">What waits to come or to be laid out, by order.</param>
/// <param name="Cannot">What is here and cannot be planned, most pieces first.</param>
public sealed record PlanGaps(IReadOnlyList<NotHereRow> NotHere, IReadOnlyList<CannotRow> Cannot)
{
    /// <summary>Reads them.</summary>
    internal static async Task<PlanGaps> LoadAsync(ShopContext context, ReadPlan? plan, CancellationToken cancel) =>
        new(await NotHereAsync(context, cancel), await CannotAsync(context, plan, cancel));

    private static async Task<IReadOnlyList<NotHereRow>> NotHereAsync(ShopContext context, CancellationToken cancel)
    {
        var booked = await context
            .Pieces.Where(p => p.State == PieceState.Booked && !p.IsTest)
            .GroupBy(p => new { p.Order, p.IsOwn })
            .Select(g => new
            {
                g.Key.Order,
                g.Key.IsOwn,
                Count = g.Count(),
            })
            .ToListAsync(cancel);
        var ids = booked.Select(b => b.Order).Distinct().ToList();
        var numbers = await context
            .Orders.Where(o => ids.Contains(o.Id) && o.CancelledAt == null)
            .Select(o => new { o.Id, o.Number })
            .ToListAsync(cancel);
        return
        [
            .. numbers
                .OrderBy(o => o.Number)
                .Select(o =>
                {
                    var of = booked.FindAll(b => b.Order == o.Id);
                    return new NotHereRow(o.Number, of.Where(b => b.IsOwn).Sum(b => b.Count), of.Where(b => !b.IsOwn).Sum(b => b.Count));
                }),
        ];
    }

    private static async Task<IReadOnlyList<CannotRow>> CannotAsync(ShopContext context, ReadPlan? plan, CancellationToken cancel)
    {
        if (plan is null)
            return [];
        var coatings = await context.Coatings.AsNoTracking().ToDictionaryAsync(c => c.Code, c => c.Name, StringComparer.Ordinal, cancel);
        var orders = plan.Day.Pieces.ToDictionary(p => p.Id, p => p.Order, StringComparer.Ordinal);
        var planned = orders.Keys.ToHashSet(StringComparer.Ordinal);
        var left = plan.Plan.LeftOut.Select(l =>
            (Lacks: coatings.GetValueOrDefault(l.Coating ?? ""), l.Reason, Why: Why(l), Order: NumberOf(orders.GetValueOrDefault(l.Piece)))
        );
        var faulty = (await FaultyPieces.ReadAsync(context, planned, cancel)).Select(f =>
            (Lacks: (string?)null, Reason: FaultyPieces.InAWord, Why: f.Reason, f.Order)
        );
        return
        [
            .. left.Concat(faulty)
                .GroupBy(l => l.Lacks ?? l.Why, StringComparer.Ordinal)
                .Select(g => new CannotRow(g.First().Lacks, g.First().Why, g.Count(), [.. g.Select(l => l.Order).Distinct().Order()])
                {
                    Reason = g.First().Reason,
                })
                .OrderByDescending(r => r.Pieces)
                .ThenBy(r => r.Why, StringComparer.Ordinal),
        ];
    }

    private static string Why(LeftOut left) =>
        left.Reason == "waits for piece" ? "It comes after a piece that cannot be planned." : left.Text;

    private static int NumberOf(string? order) =>
        int.TryParse(order, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : 0;
}

/// <summary>Reads what stands in no plan, for the page of the plan.</summary>
public sealed class PlanGapsView(IDbContextFactory<ShopContext> contexts, PlanShelf plans) : IPageView
{
    /// <summary>By the latest plan.</summary>
    public async Task<PlanGaps> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await PlanGaps.LoadAsync(context, await plans.LatestAsync(cancel), cancel);
    }
}
