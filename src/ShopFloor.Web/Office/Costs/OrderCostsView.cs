using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Pricing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Costs;

/// <summary>A line's cost, thought and real.</summary>
/// <param name="Net">The agreed price before tax, less its share of the discounts.</param>
/// <param name="Invoiced">What the invoices that stand ask for it before tax.</param>
public sealed record LineCostRow(
    int Number,
    int Quantity,
    int Ended,
    decimal Net,
    decimal Invoiced,
    Money Estimate,
    Money Actual,
    int MeasuredRuns,
    int Runs,
    IReadOnlyList<CostDifference> Parts
)
{
    /// <summary>Above zero: dearer than thought.</summary>
    public decimal Difference => Actual.Amount - Estimate.Amount;

    /// <summary>The part that differs most; null: none does.</summary>
    public CostDifference? Most => Parts.Where(p => p.Difference.Amount != 0).MaxBy(p => Math.Abs(p.Difference.Amount));
}

/// <summary>Estimate beside actual of one order.</summary>
public sealed class OrderCostsView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>Its lines on which work has begun; empty when none has, or there is no such order.</summary>
    public async Task<IReadOnlyList<LineCostRow>> LoadAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var order = await context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Number == number, cancel);
        if (order is null)
            return [];
        var account = (await OrderAccount.LoadAsync(context, order.Id, time.GetUtcNow(), cancel))!;
        var costs = await ActualCosts.LoadAsync(context, [order], time.GetUtcNow(), cancel);
        return
        [
            .. order
                .Lines.OrderBy(l => l.Number)
                .Select(l => (Line: l, Cost: costs[l.Id]))
                .Where(x => x.Cost.Runs > 0)
                .Select(x => new LineCostRow(
                    x.Line.Number,
                    x.Line.Quantity,
                    x.Cost.Ended,
                    order.NetOf(x.Line),
                    account.InvoicedNet(x.Line),
                    new Money(x.Cost.Estimate.Total, order.Currency).Rounded(),
                    new Money(x.Cost.Actual.Total, order.Currency).Rounded(),
                    x.Cost.MeasuredRuns,
                    x.Cost.Runs,
                    EstimateAndActual.Compare(x.Cost.Estimate, x.Cost.Actual, order.Currency)
                )),
        ];
    }
}
