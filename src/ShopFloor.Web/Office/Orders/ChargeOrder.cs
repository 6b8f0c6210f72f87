using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders;

/// <summary>Something to be asked for beside the pieces, such as shipping.</summary>
/// <param name="Order">The order.</param>
/// <param name="Name">What it is.</param>
/// <param name="Amount">With tax where the order was agreed with tax; or a percent of the order's price.</param>
/// <param name="IsPercent">Whether the amount is a percent.</param>
public sealed record ChargeInput(OrderId Order, string Name, decimal Amount, bool IsPercent = false);

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
                var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
                var (name, amount) = (input.Name.Trim(), input.Amount);
                if (input.IsPercent)
                {
                    if (amount is <= 0m or > 100m)
                        return new Refusal("charge-percent", "Enter a percent above 0 up to 100.", nameof(input.Amount));
                    var price = order.IsWithTax(settings.Profile.PricesIncludeTax) ? order.Gross : order.Net;
                    name = name.Length == 0 ? "" : string.Create(CultureInfo.InvariantCulture, $"{name}, {amount:0.##} %");
                    amount = new Money(price * amount / 100m, order.Currency).Rounded().Amount;
                }
                var done = order.Charge(name, amount);
                if (done.IsOk)
                    work.Audit("charge asked for", $"order {order.Number}", "", new Money(amount, order.Currency).ToString());
                work.Touch(Topic.Order, order.Id.Value);
                return done;
            },
            cancel
        );
}
