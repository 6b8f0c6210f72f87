using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Web.Commands;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A document as it would be issued now.</summary>
/// <param name="Kind">How it is called.</param>
/// <param name="Lines">Name, quantity and amount as the reader sees them.</param>
/// <param name="Sums">Discounts, tax and totals.</param>
/// <param name="Words">What stands below the sums.</param>
/// <param name="Payable">What it comes to.</param>
public sealed record DraftSheet(
    string Kind,
    IReadOnlyList<LetterLine> Lines,
    IReadOnlyList<LetterTotal> Sums,
    IReadOnlyList<string> Words,
    decimal Payable
)
{
    /// <summary>The customer without whose address it should not be issued, by the law of the workshop's country; null: none is missing.</summary>
    public CustomerId? LacksAddress { get; init; }
}

/// <summary>Shows what would be issued for an order, before it is: nothing is written and no number is given.</summary>
public sealed class InvoiceDraftView(IDbContextFactory<ShopContext> contexts, Letterheads heads, TimeProvider time) : IPageView
{
    /// <summary>Lines and sums, or why nothing can be issued.</summary>
    public async Task<Result<DraftSheet>> LoadAsync(IssueInput input, CancellationToken cancel = default) =>
        (await DraftAsync(input, cancel)).Then(d =>
        {
            var letter = InvoiceLetter.OfDraft(d.Draft, d.Day, LetterReader.Of(d.Draft.Language));
            return Result<DraftSheet>.Ok(
                new DraftSheet(InvoiceTerms.Word(d.Draft.Kind), letter.Lines, letter.Totals, letter.Closing, d.Draft.Totals().Payable)
                {
                    LacksAddress = LacksAddress(d),
                }
            );
        });

    /// <summary>The marked paper, or why there is none.</summary>
    public async Task<Result<byte[]>> PaperAsync(IssueInput input, CancellationToken cancel = default) =>
        (await DraftAsync(input, cancel)).Then(d =>
        {
            var letter = InvoiceLetter.OfDraft(d.Draft, d.Day, LetterReader.Of(d.Draft.Language));
            var settings = d.Account.Settings;
            return Result<byte[]>.Ok(
                LetterWriter.Write(
                    KeepDocument.Close(letter, d.Draft, d.Account),
                    heads.Of(settings, d.Draft.Seller, letter.Reader),
                    InvoiceTerms.Paper(settings.Profile),
                    time.GetUtcNow().UtcDateTime
                )
            );
        });

    private static CustomerId? LacksAddress(Found found)
    {
        var (terms, country) = (found.Draft.Settings, found.Account.Settings.Profile.Country);
        return
            found.Account.Customer.Address is null && AddressRule.Asks(found.Draft.Totals().WithTax, terms.Scheme, country, terms.Currency)
            ? found.Account.Customer.Id
            : null;
    }

    private sealed record Found(InvoiceDraft Draft, OrderAccount Account, DateOnly Day);

    private async Task<Result<Found>> DraftAsync(IssueInput input, CancellationToken cancel)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        if (await OrderAccount.LoadAsync(context, input.Order, now, cancel) is not { } account)
            return new Refusal("order-missing", "This order is no longer there.");
        var day = account.Settings.Day(now);
        return InvoiceDrafts
            .Of(account, day, input)
            .Then(draft =>
                InvoiceRules.Check(draft, day) is { Count: > 0 } faults ? Result<Found>.Refused(faults) : new Found(draft, account, day)
            );
    }
}
