using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>An order that money can be kept for.</summary>
/// <param name="Number">Its number.</param>
/// <param name="Booked">When it was booked, shop-local.</param>
public sealed record SurplusOrder(int Number, DateOnly Booked);

/// <summary>Money that came in beyond an invoice of the same customer.</summary>
/// <param name="Invoice">Number of the invoice.</param>
/// <param name="Amount">Above zero.</param>
public sealed record Surplus(string Invoice, decimal Amount);

/// <summary>Finds where money that was paid too much can go, and where some lies.</summary>
public sealed class SurplusView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private const int MostOrders = 20;

    /// <summary>Orders of the invoice's customer with something left to invoice, newest first.</summary>
    public async Task<IReadOnlyList<SurplusOrder>> OrdersAsync(Guid invoice, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var orders = await (
            from d in context.Documents
            where d.Id == invoice
            join paid in context.Orders on d.Order equals paid.Id
            join o in context.Orders on paid.Customer equals o.Customer
            where o.CancelledAt == null
            orderby o.Number descending
            select o.Id
        )
            .Take(MostOrders)
            .ToListAsync(cancel);
        var settings = await CurrentSettings.LoadAsync(context, time.GetUtcNow(), cancel);
        return
        [
            .. (await OrderAccount.LoadAsync(context, orders, settings, cancel))
                .Where(a => a.HasToInvoice)
                .OrderByDescending(a => a.Order.Number)
                .Select(a => new SurplusOrder(a.Order.Number, settings.Day(a.Order.BookedAt))),
        ];
    }

    /// <summary>Invoices of a customer on which too much was paid.</summary>
    internal static async Task<IReadOnlyList<Surplus>> OfAsync(ShopContext context, CustomerId customer, CancellationToken cancel) =>
        [
            .. (await InvoiceBalances.LoadAsync(context, new() { Customer = customer, OpenOnly = true }, cancel))
                .Where(r => r.Outstanding < 0m)
                .Select(r => new Surplus(r.Number, -r.Outstanding)),
        ];
}
