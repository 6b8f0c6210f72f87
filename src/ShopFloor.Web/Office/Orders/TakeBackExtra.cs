using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Invoices;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A discount or a charge that shall not be.</summary>
/// <param name="Order">The order.</param>
/// <param name="Number">Its number in the order.</param>
/// <param name="IsDiscount">A discount; else a charge.</param>
public sealed record ExtraInput(OrderId Order, int Number, bool IsDiscount);

/// <summary>Takes a discount or a charge off an order again, as long as no invoice stands on it.</summary>
public sealed class TakeBackExtra(CommandRunner runner) : IUseCase
{
    private static readonly Refusal OnInvoice = new(
        "extra-invoiced",
        "It stands on an invoice already: take that back by a credit note first."
    );

    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, ExtraInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ExtraInput, Done>(
            nameof(TakeBackExtra),
            Allowed.Owner,
            asked,
            input,
            async work =>
            {
                if (await OrderAccount.LoadAsync(work.Context, input.Order, work.Now, cancel) is not { } account)
                    return new Refusal("order-missing", "This order is no longer there.");
                work.Touch(Topic.Order, input.Order.Value);
                var order = (await work.Context.Orders.FindAsync([input.Order], cancel))!;
                return input.IsDiscount ? Discount(work, account, order, input.Number) : Charge(work, account, order, input.Number);
            },
            cancel
        );

    private static Result<Done> Discount(CommandWork work, OrderAccount account, Domain.Orders.Order order, int number)
    {
        if (order.Discounts.FirstOrDefault(d => d.Number == number) is not { } discount)
            return default(Done);
        if (!account.IsUnused(discount))
            return OnInvoice;
        order.Undiscount(discount);
        work.Audit("discount taken back", $"order {order.Number}", discount.Size(order.Currency), "");
        return default(Done);
    }

    private static Result<Done> Charge(CommandWork work, OrderAccount account, Domain.Orders.Order order, int number)
    {
        if (order.Charges.FirstOrDefault(c => c.Number == number) is not { } charge)
            return default(Done);
        if (account.OpenCharges.All(c => c.Number != number))
            return OnInvoice;
        order.Uncharge(charge);
        work.Audit("charge taken back", $"order {order.Number}", new Money(charge.Amount, order.Currency).ToString(), "");
        return default(Done);
    }
}
