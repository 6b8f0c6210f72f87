using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Something to be asked for beside the pieces, such as shipping.</summary>
/// <param name="Order">The order.</param>
/// <param name="Name">What it is.</param>
/// <param name="Amount">As the workshop's prices are: with tax where they include it.</param>
public sealed record ChargeInput(OrderId Order, string Name, decimal Amount);

/// <summary>Adds a charge to an order; it goes onto the next invoice.</summary>
public sealed class ChargeOrder(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, ChargeInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ChargeInput, Done>(
            nameof(ChargeOrder),
            Allowed.Owner,
            asked,
            input,
            async work =>
            {
                if (await work.Context.Orders.FirstOrDefaultAsync(o => o.Id == input.Order, cancel) is not { } order)
                    return new Refusal("order-missing", "This order is no longer there.");
                work.Touch(Topic.Order, order.Id.Value);
                return order.Charge(input.Name, input.Amount);
            },
            cancel
        );
}
