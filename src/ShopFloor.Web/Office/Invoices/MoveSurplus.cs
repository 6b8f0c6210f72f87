using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Money that came in beyond an invoice, to be used for another order.</summary>
/// <param name="Document">The invoice that was paid too much.</param>
/// <param name="Order">Number of the order it is kept for.</param>
public sealed record SurplusInput(Guid Document, int Order);

/// <summary>Keeps what was paid too much as money on account of another order of the same customer; its next invoice takes it off.</summary>
public sealed class MoveSurplus(CommandRunner runner) : IUseCase
{
    /// <summary>How the two entries are called.</summary>
    public const string Means = "moved";

    /// <summary>Does it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, SurplusInput input, CancellationToken cancel = default) =>
        runner.RunAsync<SurplusInput, Done>(
            nameof(MoveSurplus),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, SurplusInput input, CancellationToken cancel)
    {
        if (await OpenInvoices.LoadAsync(work.Context, input.Document, cancel) is not { } open)
            return new Refusal("invoice-missing", "There is no such invoice.");
        var (surplus, invoice) = (-open.Item.Outstanding, open.Item.Invoice);
        if (surplus <= 0m)
            return new Refusal("no-surplus", "Nothing was paid too much on this invoice.");
        var id = await work.Context.Orders.Where(o => o.Number == input.Order).Select(o => (OrderId?)o.Id).FirstOrDefaultAsync(cancel);
        if (id is not { } order || await OrderAccount.LoadAsync(work.Context, order, work.Now, cancel) is not { } account)
            return new Refusal("order-missing", "This order is no longer there.", nameof(input.Order));
        var from = await work.Context.Orders.AsNoTracking().FirstAsync(o => o.Id == open.Order, cancel);
        if (account.Customer.Id != from.Customer || account.Order.Currency != invoice.Content.Settings.Currency)
            return new Refusal("surplus-order", "Choose an order of the same customer, in the same currency.", nameof(input.Order));
        if (!account.HasToInvoice)
            return new Refusal(
                "surplus-invoiced",
                "Everything of this order is invoiced: choose another, or pay it back.",
                nameof(input.Order)
            );
        var day = account.Settings.Day(work.Now);
        PaymentRecord Entry(Guid? document, OrderId of, decimal amount, string note) =>
            new(Guid.CreateVersion7(), document, of, amount, account.Order.Currency, day, Means, note, work.By);
        work.Context.Payments.AddRange(
            Entry(input.Document, open.Order, -surplus, $"to order {account.Order.Number}"),
            Entry(null, order, surplus, $"from invoice {invoice.Number}")
        );
        work.Touch(Topic.Invoice, input.Document);
        work.Touch(Topic.Order, order.Value);
        return default(Done);
    }
}
