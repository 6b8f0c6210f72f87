using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>Reminders are kept like documents, with a number and a paper, but they are no invoices.</summary>
internal static class Reminders
{
    public const string Kind = DocumentWords.Reminder;

    public static NumberSeries Series { get; } = new("reminder", "R", PerYear: true, 4);

    public static ReminderSent Read(string json, DateOnly day)
    {
        var due = JsonSerializer.Deserialize<ReminderDue>(json, JsonForms.Default)!;
        return new ReminderSent(due.Level.Level, day) { Fee = due.Level.Fee, Interest = due.Interest };
    }
}

/// <summary>Which invoice to remind of.</summary>
public sealed record ReminderInput(Guid Invoice);

/// <summary>Makes the next overdue reminder for an invoice, when one is due.</summary>
public sealed class SendReminder(CommandRunner runner, Letterheads heads) : IUseCase
{
    /// <summary>Does it.</summary>
    public Task<Result<DocumentIssued>> RunAsync(Asked asked, ReminderInput input, CancellationToken cancel = default) =>
        runner.RunAsync<ReminderInput, DocumentIssued>(
            nameof(SendReminder),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    internal async Task<Result<DocumentIssued>> DecideAsync(CommandWork work, ReminderInput input, CancellationToken cancel)
    {
        if (await OpenInvoices.LoadAsync(work.Context, input.Invoice, cancel) is not { } open)
            return new Refusal("invoice-missing", "There is no such invoice.");
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var day = settings.Day(work.Now);
        if (Dunning.Next(open.Item, settings.Invoices.Reminders, open.Item.Sent, day) is not { } due)
            return new Refusal(
                "no-reminder-due",
                "No reminder is due for this invoice: it is paid, not late enough, or the last letter's time has not passed."
            );
        var invoice = open.Item.Invoice;
        var number = Reminders.Series.Format(await work.NextNumberAsync(Reminders.Series.CounterKey(day), cancel), day);
        var words = new LetterWords(settings, invoice.Content.Buyer?.Name ?? "", (TextPlaces.Invoice, invoice.Number));
        var letter = words.Open(
            ReminderLetter.Of(invoice, due, day, LetterReader.Of(invoice.Content.Language)),
            t => due.Level.Level == 1 ? t.FirstReminder : t.LaterReminder
        );
        var pdf = LetterWriter.Write(
            letter,
            heads.Of(settings, invoice.Content.Seller, LetterReader.Of(invoice.Content.Language)),
            InvoiceTerms.Paper(settings.Profile),
            work.Now.UtcDateTime
        );
        var json = JsonSerializer.Serialize(due, JsonForms.Default);
        var kept = new IssuedDocument(
            Guid.CreateVersion7(),
            Reminders.Kind,
            number,
            new DocumentFor(open.Order, invoice.Content.Buyer?.Name ?? ""),
            work.Now,
            json,
            (due.Total, invoice.Content.Settings.Currency)
        )
        {
            Corrects = open.Id,
            Day = day,
            Due = due.PayUntil,
            Pdf = pdf,
            Sha256 = KeepDocument.Hash(json, "", pdf),
        };
        work.Context.Documents.Add(kept);
        work.Touch(Topic.Invoice, open.Id);
        return new DocumentIssued(kept.Id, number);
    }
}
