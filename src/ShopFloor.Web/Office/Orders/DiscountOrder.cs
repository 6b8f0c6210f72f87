using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Something taken off the price of an order by hand.</summary>
/// <param name="Order">The order.</param>
/// <param name="Wish">Percent or amount, and why.</param>
public sealed record DiscountInput(OrderId Order, DiscountWish Wish);

/// <summary>Gives a discount on what of an order is not invoiced yet; it stands on the confirmation and on the invoices.</summary>
public sealed class DiscountOrder(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, DiscountInput input, CancellationToken cancel = default) =>
        runner.RunAsync<DiscountInput, Done>(
            nameof(DiscountOrder),
            Allowed.Owner,
            asked,
            input,
            async work =>
            {
                if (await OrderAccount.LoadAsync(work.Context, input.Order, work.Now, cancel) is not { } account)
                    return new Refusal("order-missing", "This order is no longer there.");
                var order = (await work.Context.Orders.FindAsync([input.Order], cancel))!;
                var invoiced = account.Lines.ToDictionary(l => l.Line.Number, l => l.Invoiced);
                var withTax = account.Settings.Profile.PricesIncludeTax;
                var done = order.Discount(input.Wish, invoiced, withTax, new Signature(work.By, work.Now));
                if (!done.IsOk)
                    return done;
                var given = order.Discounts[^1];
                work.Audit("discount given", $"order {order.Number}", "", given.Size(order.Currency));
                work.Touch(Topic.Order, order.Id.Value);
                return done;
            },
            cancel
        );
}
