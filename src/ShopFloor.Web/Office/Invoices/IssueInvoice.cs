using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What to issue for an order.</summary>
/// <param name="Order">The order.</param>
/// <param name="Deposit">A deposit invoice over so much; null: an invoice for what is ready.</param>
/// <param name="Note">Words on the invoice; may be empty.</param>
/// <param name="TaxCode">Code of a rate for the whole document; null: as the settings say.</param>
/// <param name="PaidBy">Paid on the spot, <c>cash</c> or <c>card</c>: a receipt is made; null: an invoice.</param>
/// <param name="Seen">What it came to when it was looked at; null: nobody looked.</param>
/// <param name="IsInvoice">What is paid on the spot stands on an invoice, not on a receipt; a deposit always does.</param>
public sealed record IssueInput(
    OrderId Order,
    decimal? Deposit = null,
    string Note = "",
    string? TaxCode = null,
    string? PaidBy = null,
    decimal? Seen = null,
    bool IsInvoice = false
);

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
        if (await OrderAccount.LoadAsync(work.Context, input.Order, work.Now, cancel) is not { } account)
            return new Refusal("order-missing", "This order is no longer there.");
        var day = account.Settings.Day(work.Now);
        var draft = InvoiceDrafts.Of(account, day, input);
        if (!draft.IsOk)
            return Result<DocumentIssued>.Refused(draft.Refusals);
        var total = draft.Value.Totals().Payable;
        if (input.Seen is { } seen && seen != total)
            return new Refusal(
                "draft-changed",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Something changed meanwhile: it would now come to {total:0.00} instead of {seen:0.00}. Look at it again."
                )
            );
        var head = heads.Of(account.Settings, draft.Value.Seller, LetterReader.Of(draft.Value.Language));
        if (input.PaidBy is { } with && draft.Value.Kind != DocumentKind.Receipt)
            PayBefore(work, (account, draft.Value), with, day);
        var kept = await KeepDocument.IssueAsync(work, account, new DocumentToIssue(draft.Value, head), cancel);
        if (kept.IsOk && input.PaidBy is { } means && draft.Value.Kind == DocumentKind.Receipt)
            PayOnTheSpot(work, (account, draft.Value), kept.Value, means, day);
        return kept.Then(d => Result<DocumentIssued>.Ok(new DocumentIssued(d.Id, d.Number)));
    }

    /// <summary>An invoice that says that it is paid was paid before: the money is entered for the order, and the invoice takes it off.</summary>
    private static void PayBefore(CommandWork work, (OrderAccount Account, InvoiceDraft Draft) what, string means, DateOnly day)
    {
        var paid = what.Draft.Paid - Math.Max(0m, what.Account.OnAccount);
        if (paid > 0m)
            Pay(work, (what.Account.Order.Id, null), new Money(paid, what.Draft.Settings.Currency), means, day);
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
            Pay(work, (what.Account.Order.Id, document.Id), new Money(due, document.Currency), means, day);
    }

    private static void Pay(CommandWork work, (OrderId Order, Guid? Document) on, Money sum, string means, DateOnly day) =>
        work.Context.Payments.Add(
            new PaymentRecord(Guid.CreateVersion7(), on.Document, on.Order, sum.Amount, sum.Currency, day, means, "on the spot", work.By)
        );
}
