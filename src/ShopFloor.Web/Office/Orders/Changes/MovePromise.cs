using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>Another day on which an order shall be ready.</summary>
/// <param name="Order">The order.</param>
/// <param name="SeenVersion">As the page showed it.</param>
/// <param name="Day">Shop-local; it is promised for the end of that working day.</param>
public sealed record PromiseInput(OrderId Order, int SeenVersion, DateOnly Day);

/// <summary>Gives a booked order another promise. The owner may promise what the plan does not: the page shows the earliest honest day beside it.</summary>
public sealed class MovePromise(CommandRunner runner) : IUseCase
{
    /// <summary>Does it; the answer is the promise, UTC.</summary>
    public Task<Result<DateTimeOffset>> RunAsync(Asked asked, PromiseInput input, CancellationToken cancel = default) =>
        runner.RunAsync<PromiseInput, DateTimeOffset>(
            nameof(MovePromise),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<DateTimeOffset>> DecideAsync(CommandWork work, PromiseInput input, CancellationToken cancel)
    {
        var found = await SeenOrder.FindAsync(work, (input.Order, input.SeenVersion), cancel);
        if (!found.IsOk)
            return Result<DateTimeOffset>.Refused(found.Refusals);
        var (order, settings) = (found.Value, await CurrentSettings.LoadAsync(work.Context, work.Now, cancel));
        var pieces = await work.Context.Pieces.AsNoTracking().Where(p => p.Order == order.Id).ToListAsync(cancel);
        if (!pieces.Exists(p => p.IsUnfinished))
            return new Refusal(
                "nothing-open",
                "Nothing of this order is left to be made: its promise is kept or broken already.",
                "promise"
            );
        if (LineFaults.OfWanted(input.Day, settings.Day(work.Now)) is [var fault, ..])
            return fault with { Field = "promise" };
        var people = await work.Context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync(cancel);
        if (PromiseRounding.CloseOf(input.Day, people, settings) is not { } at)
            return new Refusal("day-closed", "Nobody works on that day. Choose a working day.", "promise");
        if (at <= work.Now)
            return new Refusal("day-over", "The working day is over. Choose a later day.", "promise");
        if (at == order.PromisedAt)
            return new Refusal("promise-same", "That is what is promised already.", "promise");
        var before = order.PromisedAt;
        order.Promise(at);
        work.Audit("promise moved", SeenOrder.Subject(order), Words(before, settings), Words(at, settings));
        return at;
    }

    private static string Words(DateTimeOffset at, CurrentSettings settings) =>
        TimeZoneInfo.ConvertTime(at, settings.Zone).DateTime.ToString("s", CultureInfo.InvariantCulture);
}
