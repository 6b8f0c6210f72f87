using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Drafts a credit note, and says its sum before it is issued.</summary>
public sealed class CreditDraft(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    private static string Terms(IssuedInvoice invoice) =>
        LetterReader.Of(invoice.Content.Language).Say("The amount will be set off or paid back.");

    /// <summary>The sum that the note would take back, with tax; or why there can be none.</summary>
    public async Task<Result<decimal>> RunAsync(CreditInput input, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var row = await context
            .Documents.AsNoTracking()
            .FirstOrDefaultAsync(d => d.Id == input.Invoice && d.Kind != Reminders.Kind, cancel);
        if (row is null)
            return new Refusal("invoice-missing", "There is no such invoice.");
        var account = (await OrderAccount.LoadAsync(context, row.Order, time.GetUtcNow(), cancel))!;
        return Of(account, OrderAccount.Read(row.Json), input).Then(d => Result<decimal>.Ok(d.Totals().Payable));
    }

    /// <summary>The note as it would be issued.</summary>
    internal static Result<InvoiceDraft> Of(OrderAccount account, IssuedInvoice invoice, CreditInput input)
    {
        if (invoice.Content.Kind == DocumentKind.CreditNote)
            return new Refusal("credit-of-credit", "A credit note cannot be taken back: issue the invoice again.");
        if (Deposit(account, invoice, input) is { } fault)
            return fault;
        var earlier = Notes(account, invoice);
        var draft = input.Quantities is { } quantities
            ? CreditNotes.Part(invoice, earlier, quantities, input.Reason.Trim(), Terms(invoice))
            : CreditNotes.Rest(invoice, earlier, input.Reason.Trim(), Terms(invoice));
        return draft.Then(d => Result<InvoiceDraft>.Ok(d with { AsksNoMore = input.AsksNoMore }));
    }

    private static List<IssuedInvoice> Notes(OrderAccount account, IssuedInvoice invoice) =>
        [
            .. account
                .Issued.Select(i => i.Document)
                .Where(d => d.Content.Kind == DocumentKind.CreditNote && d.Content.Preceding.Contains(invoice.Reference)),
        ];

    /// <summary>A deposit invoice is taken back as a whole, and not while an invoice takes it off: its money would be given back twice.</summary>
    private static Refusal? Deposit(OrderAccount account, IssuedInvoice invoice, CreditInput input)
    {
        if (invoice.Content.Kind != DocumentKind.DepositInvoice)
            return null;
        if (account.TakenOffBy(invoice) is { } final)
            return CreditNotes.Rest(final, Notes(account, final), input.Reason, Terms(final)).IsOk
                ? new("deposit-taken-off", $"Invoice {final.Number} took this deposit off: take all of {final.Number} back first.")
                : new(
                    "deposit-given-back",
                    $"Invoice {final.Number} took this deposit off, and its credit notes gave the money back already."
                );
        return input.Quantities is { } some && invoice.Content.Lines.Any(l => some.GetValueOrDefault(l.Id) != l.Quantity)
            ? new("deposit-whole", "A deposit invoice is taken back as a whole.")
            : null;
    }
}
