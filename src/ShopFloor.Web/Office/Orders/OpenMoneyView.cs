using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders;

/// <summary>What is still to come in for an order while some of it goes out.</summary>
/// <param name="Amount">With tax, for all of it that is not lost; below zero: too much came in.</param>
/// <param name="Currency">ISO 4217.</param>
public sealed record OpenMoney(decimal Amount, string Currency)
{
    /// <summary>True when something is still to be paid.</summary>
    public bool IsOpen => Amount > 0m;
}

/// <summary>Reads what is open in money for an order, as its account has it.</summary>
public sealed class OpenMoneyView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The amount, for who may see prices; null when there is no such order.</summary>
    public async Task<OpenMoney?> LoadAsync(int number, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var id = await context.Orders.Where(o => o.Number == number).Select(o => (OrderId?)o.Id).FirstOrDefaultAsync(cancel);
        return id is { } order && await OrderAccount.LoadAsync(context, order, time.GetUtcNow(), cancel) is { } account
            ? new OpenMoney(account.LeftToPay, account.Order.Currency)
            : null;
    }

    /// <summary>Whether something is still to be paid: all that the Bench is told.</summary>
    public async Task<bool> IsOpenAsync(int number, CancellationToken cancel = default) =>
        (await LoadAsync(number, cancel))?.IsOpen == true;
}
