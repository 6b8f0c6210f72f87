using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Secrets;
using ShopFloor.Web.Counter.Status;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Orders;

/// <summary>A new secret of a customer's page.</summary>
/// <param name="Order">The order's number.</param>
/// <param name="Token">The secret: the order keeps its hash, the list of commands keeps it closed.</param>
public sealed record NewLink(int Order, string Token);

/// <summary>
/// Gives an order a new secret link. The old one is kept as a hash and cannot be read again by anybody; it stops to work. The same command
/// sent again answers the same link, so that it can be shown and printed.
/// </summary>
public sealed class NewStatusLink(CommandRunner runner, SecretBox secrets) : IUseCase
{
    /// <summary>Makes it.</summary>
    public async Task<Result<NewLink>> RunAsync(Asked asked, int order, CancellationToken cancel = default)
    {
        var made = await runner.RunAsync<int, NewLink>(
            nameof(NewStatusLink),
            Allowed.Owner,
            asked,
            order,
            work => DecideAsync(work, order, cancel),
            cancel
        );
        return made.Then<NewLink>(l =>
            secrets.Open(l.Token) is { Length: > 0 } token
                ? l with
                {
                    Token = token,
                }
                : new Refusal("link-closed", "This link can no longer be read. Make a new one.")
        );
    }

    private async Task<Result<NewLink>> DecideAsync(CommandWork work, int number, CancellationToken cancel)
    {
        if (await work.Context.Orders.FirstOrDefaultAsync(o => o.Number == number, cancel) is not { } order)
            return new Refusal("order-missing", "This order is no longer there.");
        if (!await StatusView.IsLivingAsync(work.Context, order.Id, work.Now, cancel))
            return new Refusal("link-over", "The last piece of this order went out so long ago that its customer's page is closed.");
        var token = StatusToken.Make();
        work.Touch(Topic.Order, order.Id.Value);
        work.Audit("status link made anew", $"order {number.ToString(CultureInfo.InvariantCulture)}", "", "");
        return order.Relink(StatusToken.HashOf(token)).Then<NewLink>(_ => new NewLink(number, secrets.Close(token)));
    }
}
