using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Money that came in or went back.</summary>
/// <param name="Document">The invoice it settles; null: on account of the order.</param>
/// <param name="Order">The order, when there is no invoice yet.</param>
/// <param name="Amount">Negative: paid back.</param>
/// <param name="Day">When, shop-local.</param>
/// <param name="Means"><c>cash</c>, <c>transfer</c> or <c>card</c>.</param>
/// <param name="Note">The payer's words; may be empty.</param>
public sealed record PaymentInput(Guid? Document, OrderId? Order, decimal Amount, DateOnly Day, string Means, string Note = "");

/// <summary>A payment that was entered.</summary>
public sealed record PaymentEntered(Guid Id);

/// <summary>Enters a payment on an invoice, or on account of an order that has none yet.</summary>
public sealed class EnterPayment(CommandRunner runner) : IUseCase
{
    /// <summary>Ways money comes in.</summary>
    public static IReadOnlyList<string> Means { get; } = ["transfer", "cash", "card"];

    /// <summary>Does it.</summary>
    public Task<Result<PaymentEntered>> RunAsync(Asked asked, PaymentInput input, CancellationToken cancel = default) =>
        runner.RunAsync<PaymentInput, PaymentEntered>(
            nameof(EnterPayment),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    internal static async Task<Result<PaymentEntered>> DecideAsync(CommandWork work, PaymentInput input, CancellationToken cancel)
    {
        if (!Means.Contains(input.Means, StringComparer.Ordinal))
            return new Refusal("payment-means", "Say how it was paid: transfer, cash or card.", nameof(input.Means));
        if (input.Note.Length > 500)
            return new Refusal("payment-note", "At most 500 characters.", nameof(input.Note));
        return input.Document is { } id ? await OnInvoiceAsync(work, input, id, cancel) : await OnAccountAsync(work, input, cancel);
    }

    private static async Task<Result<PaymentEntered>> OnInvoiceAsync(
        CommandWork work,
        PaymentInput input,
        Guid id,
        CancellationToken cancel
    )
    {
        if (await OpenInvoices.LoadAsync(work.Context, id, cancel) is not { } open)
            return new Refusal("invoice-missing", "There is no such invoice.");
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var booked = await work.Context.Orders.Where(o => o.Id == open.Order).Select(o => o.BookedAt).FirstAsync(cancel);
        var payment = new Payment(input.Day, input.Amount, PaymentMeansCodes.Transfer);
        var faults = open.Item.CheckPayment(payment, settings.Day(work.Now), settings.Day(booked));
        if (faults.Count > 0)
            return Result<PaymentEntered>.Refused(faults);
        work.Touch(Topic.Invoice, id);
        work.Touch(Topic.Order, open.Order.Value);
        return Add(work, input, id, open.Order, open.Item.Invoice.Content.Settings.Currency);
    }

    private static async Task<Result<PaymentEntered>> OnAccountAsync(CommandWork work, PaymentInput input, CancellationToken cancel)
    {
        var order = await work.Context.Orders.AsNoTracking().FirstOrDefaultAsync(o => o.Id == input.Order, cancel);
        if (order is null)
            return new Refusal("payment-without-order", "A payment belongs to an invoice or to an order: choose one.", nameof(input.Order));
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var held = (
            await work.Context.Payments.Where(p => p.Order == order.Id && p.Document == null).Select(p => p.Amount).ToListAsync(cancel)
        ).Sum();
        if (input.Amount == 0m || Math.Abs(input.Amount) > 1_000_000m || Domain.Quantities.Money.Round(input.Amount) != input.Amount)
            return new Refusal(
                "payment-amount",
                "Enter the amount received, with at most two decimals; with a minus when it was paid back.",
                nameof(input.Amount)
            );
        if (held + input.Amount < 0m)
            return await NotHeldAsync(work.Context, order.Number, cancel);
        if (input.Day > settings.Day(work.Now))
            return new Refusal("payment-day", "The day of payment lies in the future.", nameof(input.Day));
        if (input.Day < settings.Day(order.BookedAt))
            return new Refusal("payment-day", "The day of payment lies before the order: look at day and year.", nameof(input.Day));
        work.Touch(Topic.Order, order.Id.Value);
        return Add(work, input, null, order.Id, order.Currency);
    }

    /// <summary>What an invoice was paid too much is paid back on it: entered beside it, the invoice would go on asking to pay it back.</summary>
    private static async Task<Refusal> NotHeldAsync(ShopContext context, int order, CancellationToken cancel)
    {
        var over = (await InvoiceBalances.LoadAsync(context, new() { Order = order }, cancel)).FirstOrDefault(r => r.Outstanding < 0m);
        var text = over is null
            ? "More cannot be paid back than was received."
            : $"This money does not lie on account: too much was paid on {over.Number}. Enter on its page that it was paid back.";
        return new Refusal("payment-back", text, nameof(PaymentInput.Amount));
    }

    private static PaymentEntered Add(CommandWork work, PaymentInput input, Guid? document, OrderId order, string currency)
    {
        var id = Guid.CreateVersion7();
        work.Context.Payments.Add(
            new PaymentRecord(id, document, order, input.Amount, currency, input.Day, input.Means, input.Note.Trim(), work.By)
        );
        return new PaymentEntered(id);
    }
}
