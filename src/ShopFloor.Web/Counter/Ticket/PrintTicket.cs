using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Documents;

namespace ShopFloor.Web.Counter.Ticket;

/// <summary>Writes down that a customer's ticket was printed, in the journal of all prints.</summary>
public sealed class PrintTicket(CommandRunner runner) : IUseCase
{
    /// <summary>Does it.</summary>
    /// <param name="asked">Who prints.</param>
    /// <param name="order">The order's number.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Printed>> RunAsync(Asked asked, int order, CancellationToken cancel = default) =>
        runner.RunAsync<int, Printed>(
            nameof(PrintTicket),
            Allowed.Counter,
            asked,
            order,
            async work => await PrintPaper.WriteDownAsync(work, string.Create(CultureInfo.InvariantCulture, $"Ticket {order}"), cancel),
            cancel
        );
}
