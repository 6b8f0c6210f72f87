using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Orders.Changes;

/// <summary>The booked order that a change is meant for, as its page showed it.</summary>
internal static class SeenOrder
{
    /// <summary>Words in the audit list whose before and after may name somebody: they are taken out with the customer.</summary>
    internal static readonly IReadOnlyList<string> Personal = [ContactChanged, TextChanged];

    /// <summary>Who is told about the order, and how.</summary>
    internal const string ContactChanged = "order contact changed";

    /// <summary>What stands on the pieces.</summary>
    internal const string TextChanged = "order text changed";

    /// <summary>What an order is called in the audit list.</summary>
    internal static string Subject(Order order) => string.Create(CultureInfo.InvariantCulture, $"order {order.Number}");

    /// <summary>The order; or why it cannot be changed. Screens are told of it.</summary>
    internal static async Task<Result<Order>> FindAsync(CommandWork work, (OrderId Order, int Version) seen, CancellationToken cancel)
    {
        if (await work.Context.Orders.FirstOrDefaultAsync(o => o.Id == seen.Order, cancel) is not { } order)
            return new Refusal("order-missing", "This order is no longer there.");
        if (CommandWork.IfChanged(seen.Version, order.Version, $"order {order.Number}") is { } changed)
            return changed;
        if (order.CancelledAt is not null)
            return new Refusal("order-off", "This order was called off.");
        if (await work.Context.Customers.AnyAsync(c => c.Id == order.Customer && c.ErasedAt != null, cancel))
            return new Refusal("customer-erased", "The customer's personal data was erased: this order stays as it is.");
        work.Touch(Topic.Order, order.Id.Value);
        return order;
    }

    /// <summary>The pieces of one of its lines, test pieces too.</summary>
    internal static Task<List<Piece>> PiecesAsync(CommandWork work, OrderLineId line, CancellationToken cancel) =>
        work.Context.Pieces.Where(p => p.Line == line).OrderBy(p => p.Number).ToListAsync(cancel);
}
