using Microsoft.EntityFrameworkCore;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What to take back.</summary>
/// <param name="Invoice">The invoice.</param>
/// <param name="Quantities">By line id; null: all that is left.</param>
/// <param name="Reason">Why, 3 to 500 characters; it stands on the note.</param>
/// <param name="AsksNoMore">Nothing more is asked for these pieces. False: they are invoiced anew.</param>
public sealed record CreditInput(Guid Invoice, IReadOnlyDictionary<string, decimal>? Quantities, string Reason, bool AsksNoMore = false);

/// <summary>Takes back all or part of an invoice. Issued documents are never changed: this is the only way to correct one.</summary>
public sealed class IssueCreditNote(CommandRunner runner, Letterheads heads) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<DocumentIssued>> RunAsync(Asked asked, CreditInput input, CancellationToken cancel = default) =>
        runner.RunAsync<CreditInput, DocumentIssued>(
            nameof(IssueCreditNote),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    /// <summary>What is wrong with the reason; null when nothing is.</summary>
    public static Refusal? CheckReason(string? reason) =>
        (reason ?? "").Trim().Length is < 3 or > 500
            ? new("credit-reason", "Say why it is taken back, in 3 to 500 characters.", nameof(CreditInput.Reason))
            : null;

    internal async Task<Result<DocumentIssued>> DecideAsync(CommandWork work, CreditInput input, CancellationToken cancel)
    {
        if (CheckReason(input.Reason) is { } why)
            return why;
        var row = await work
            .Context.Documents.AsNoTracking()
            .FirstOrDefaultAsync(d => d.Id == input.Invoice && d.Kind != Reminders.Kind, cancel);
        if (row is null)
            return new Refusal("invoice-missing", "There is no such invoice.");
        var account = (await OrderAccount.LoadAsync(work.Context, row.Order, work.Now, cancel))!;
        var invoice = OrderAccount.Read(row.Json);
        var draft = CreditDraft.Of(account, invoice, input);
        if (!draft.IsOk)
            return Result<DocumentIssued>.Refused(draft.Refusals);
        var named = Named(draft.Value, account);
        var wanted = new DocumentToIssue(named, heads.Of(account.Settings, named.Seller, LetterReader.Of(named.Language)), row.Id);
        var kept = await KeepDocument.IssueAsync(work, account, wanted, cancel);
        return kept.Then(d => Result<DocumentIssued>.Ok(new DocumentIssued(d.Id, d.Number)));
    }

    // A receipt may name nobody, and its workshop by no number; what takes it back must.
    private static InvoiceDraft Named(InvoiceDraft draft, OrderAccount account)
    {
        var (profile, outside) = (account.Settings.Profile, draft.Lines.Any(l => l.Tax.Category == TaxCategory.OutsideScope));
        var buyer = draft.Buyer ?? InvoiceTerms.Buyer(account.Customer, account.Order.Contact, account.Settings);
        return draft with
        {
            Seller = InvoiceTerms.Named(draft.Seller, profile, outside),
            Buyer = outside ? buyer with { VatId = null } : buyer,
        };
    }
}
