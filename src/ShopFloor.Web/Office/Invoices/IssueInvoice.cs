using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What to issue for an order.</summary>
/// <param name="Order">The order.</param>
/// <param name="Deposit">A deposit invoice over so much; null: an invoice for what is ready.</param>
/// <param name="Note">Words on the invoice; may be empty.</param>
/// <param name="TaxCode">Code of a rate for the whole document; null: as the settings say.</param>
/// <param name="PaidBy">Paid on the spot, <c>cash</c> or <c>card</c>: a receipt is made; null: an invoice.</param>
public sealed record IssueInput(OrderId Order, decimal? Deposit = null, string Note = "", string? TaxCode = null, string? PaidBy = null);

/// <summary>A document that was issued.</summary>
public sealed record DocumentIssued(Guid Id, string Number);

/// <summary>Issues an invoice or a receipt for finished pieces, or a deposit invoice. Two people at once: the second finds nothing left to invoice.</summary>
public sealed class IssueInvoice(CommandRunner runner, Letterheads heads) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<DocumentIssued>> RunAsync(Asked asked, IssueInput input, CancellationToken cancel = default) =>
        runner.RunAsync<IssueInput, DocumentIssued>(
            nameof(IssueInvoice),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private async Task<Result<DocumentIssued>> DecideAsync(CommandWork work, IssueInput input, CancellationToken cancel)
    {
        if (input.PaidBy is not (null or "cash" or "card"))
            return new Refusal("payment-means", "A receipt is paid in cash or by card.", nameof(input.PaidBy));
        if (await OrderAccount.LoadAsync(work.Context, input.Order, work.Now, cancel) is not { } account)
            return new Refusal("order-missing", "This order is no longer there.");
        var day = account.Settings.Day(work.Now);
        var draft = input.Deposit is { } amount
            ? InvoiceDrafts.Deposit(account, day, amount)
            : InvoiceDrafts.Pieces(account, day, new InvoiceWish(input.Note, input.TaxCode, input.PaidBy));
        if (!draft.IsOk)
            return Result<DocumentIssued>.Refused(draft.Refusals);
        var head = heads.Of(account.Settings, draft.Value.Seller);
        var kept = await KeepDocument.IssueAsync(work, account, new DocumentToIssue(draft.Value, head), cancel);
        if (kept.IsOk && input.PaidBy is { } means)
            PayOnTheSpot(work, (account, draft.Value), kept.Value, means, day);
        return kept.Then(d => Result<DocumentIssued>.Ok(new DocumentIssued(d.Id, d.Number)));
    }

    private static void PayOnTheSpot(
        CommandWork work,
        (OrderAccount Account, InvoiceDraft Draft) what,
        IssuedDocument document,
        string means,
        DateOnly day
    )
    {
        var due = what.Draft.Totals().Due;
        if (due != 0m)
            work.Context.Payments.Add(
                new PaymentRecord(
                    Guid.CreateVersion7(),
                    document.Id,
                    what.Account.Order.Id,
                    due,
                    document.Currency,
                    day,
                    means,
                    "on the spot",
                    work.By
                )
            );
    }
}
