using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.EInvoice;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>A draft that gets its number now.</summary>
/// <param name="Draft">What it says.</param>
/// <param name="Head">The head of its paper.</param>
/// <param name="Corrects">The document that it takes back; null for none.</param>
public sealed record DocumentToIssue(InvoiceDraft Draft, Letterhead Head, Guid? Corrects = null);

/// <summary>
/// Gives a draft its number and keeps numbers, XML and PDF with their hash, all inside the command's transaction: when it does not commit, the number
/// was never given.
/// </summary>
public static class KeepDocument
{
    public static async Task<Result<IssuedDocument>> IssueAsync(
        CommandWork work,
        OrderAccount account,
        DocumentToIssue wanted,
        CancellationToken cancel
    )
    {
        if (await ClockMark.RefusalAsync(work, cancel) is { } doubt)
            return doubt;
        var draft = wanted.Draft;
        var day = account.Settings.Day(work.Now);
        if (InvoiceRules.Check(draft, day) is { Count: > 0 } faults)
            return Result<IssuedDocument>.Refused(faults);
        var series = InvoiceTerms.Series(draft.Kind);
        var number = series.Format(await work.NextNumberAsync(series.CounterKey(day), cancel), day);
        var issued = draft.Issue(number, day).Value;
        var pdf = LetterWriter.Write(
            Close(InvoiceLetter.Of(issued, LetterReader.Of(draft.Language)), issued.Content, account),
            wanted.Head,
            InvoiceTerms.Paper(account.Settings.Profile),
            work.Now.UtcDateTime
        );
        var xml = issued.AllowsEInvoice ? Encoding.UTF8.GetString(UblInvoice.Write(issued).Value) : "";
        var json = JsonSerializer.Serialize(issued, JsonForms.Default);
        var document = new IssuedDocument(
            Guid.CreateVersion7(),
            InvoiceTerms.Word(draft.Kind),
            number,
            new DocumentFor(account.Order.Id, draft.Buyer?.Name ?? ""),
            work.Now,
            json,
            (issued.Totals.Payable, draft.Settings.Currency)
        )
        {
            Corrects = wanted.Corrects,
            Day = day,
            Due = draft.DueDate,
            Xml = xml,
            Pdf = pdf,
            Sha256 = Hash(json, xml, pdf),
        };
        work.Context.Documents.Add(document);
        if (draft.Paid != 0m)
            Allocate(work, account, document.Id, draft);
        work.Touch(Topic.Invoice, document.Id);
        work.Touch(Topic.Order, account.Order.Id.Value);
        return document;
    }

    /// <summary>The paper with the workshop's own closing words.</summary>
    internal static Letter Close(Letter letter, InvoiceDraft draft, OrderAccount account)
    {
        var order = account.Order.Number.ToString(CultureInfo.InvariantCulture);
        return draft.Kind == DocumentKind.CreditNote
            ? letter
            : new LetterWords(account.Settings, account.Order.Contact.Name, (TextPlaces.Order, order)).Close(letter, t => t.InvoiceClosing);
    }

    /// <summary>The fingerprint of a document: what was kept can be proved unchanged.</summary>
    public static string Hash(string json, string xml, byte[] pdf)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes(json));
        hash.AppendData(Encoding.UTF8.GetBytes(xml));
        hash.AppendData(pdf);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>What was paid on account moves from the order to the invoice that takes it off.</summary>
    private static void Allocate(CommandWork work, OrderAccount account, Guid document, InvoiceDraft draft)
    {
        var day = account.Settings.Day(work.Now);
        PaymentRecord Move(Guid? to, decimal amount) =>
            new(
                Guid.CreateVersion7(),
                to,
                account.Order.Id,
                amount,
                draft.Settings.Currency,
                day,
                InvoiceTerms.Allocated,
                "taken off the invoice",
                work.By
            );
        work.Context.Payments.AddRange(Move(null, -draft.Paid), Move(document, draft.Paid));
    }
}
