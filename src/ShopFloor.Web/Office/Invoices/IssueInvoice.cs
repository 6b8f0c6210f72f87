using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What to issue for an order.</summary>
/// <param name="Order">The order.</param>
/// <param name="Deposit">Amount of a deposit invoice; null for an invoice of the pieces that are ready.</param>
/// <param name="Note">Words on the invoice; may be empty.</param>
public sealed record IssueInput(OrderId Order, decimal? Deposit = null, string Note = "");

/// <summary>A document that was issued.</summary>
public sealed record DocumentIssued(Guid Id, string Number);

/// <summary>Issues an invoice for finished pieces, or a deposit invoice. Two people at once: the second finds nothing left to invoice.</summary>
public sealed class IssueInvoice(CommandRunner runner) : IUseCase
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

    private static async Task<Result<DocumentIssued>> DecideAsync(CommandWork work, IssueInput input, CancellationToken cancel)
    {
        if (await OrderAccount.LoadAsync(work.Context, input.Order, work.Now, cancel) is not { } account)
            return new Refusal("order-missing", "This order is no longer there.");
        var day = account.Settings.Day(work.Now);
        var draft = input.Deposit is { } amount
            ? InvoiceDrafts.Deposit(account, day, amount)
            : InvoiceDrafts.Pieces(account, day, input.Note);
        if (!draft.IsOk)
            return Result<DocumentIssued>.Refused(draft.Refusals);
        var kept = await KeepDocument.IssueAsync(work, account, draft.Value, corrects: null, cancel);
        return kept.Then(d => Result<DocumentIssued>.Ok(new DocumentIssued(d.Id, d.Number)));
    }
}
