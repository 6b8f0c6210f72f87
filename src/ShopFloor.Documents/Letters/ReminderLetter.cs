using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>An overdue reminder, friendly at first.</summary>
public static class ReminderLetter
{
    /// <summary>Spells the reminder out.</summary>
    /// <param name="invoice">The invoice not yet paid.</param>
    /// <param name="reminder">What is due.</param>
    /// <param name="today">Day of the letter.</param>
    /// <param name="reader">Who reads it: language, numbers and days.</param>
    public static Letter Of(IssuedInvoice invoice, ReminderDue reminder, DateOnly today, LetterReader reader)
    {
        var content = invoice.Content;
        var due = content.DueDate is { } day ? reader.Say(", due {0}", reader.Day(day)) : "";
        List<LetterTotal> totals = [];
        if (reminder.Level.Fee != 0m)
            totals.Add(new(reader.Say("Fee"), reader.Amount(reminder.Level.Fee)));
        if (reminder.Interest != 0m)
            totals.Add(
                new(
                    reader.Say(
                        "Interest {0} a year, {1} days",
                        reader.Percent(reminder.Level.InterestPercentPerYear),
                        reader.Quantity(reminder.DaysLate)
                    ),
                    reader.Amount(reminder.Interest)
                )
            );
        totals.Add(new(reader.Say("To pay"), reader.Amount(reminder.Total), Strong: true));
        return new Letter(
            reader.Say("{0} for invoice {1}", reader.Say(reminder.Level.Name), invoice.Number),
            InvoiceLetter.To(content.Buyer, content.Seller.Address.Country, reader),
            [new(reader.Say("Date"), reader.Day(today)), new(reader.Say("Pay by"), reader.Day(reminder.PayUntil))],
            [
                new(
                    "1",
                    reader.Say("Invoice {0} of {1}", invoice.Number, reader.Day(invoice.Date)) + due,
                    "",
                    Amount: reader.Amount(reminder.Outstanding)
                )
                {
                    Carry = reminder.Outstanding,
                },
            ]
        )
        {
            Opening = reader.Say(Opening(reminder)),
            AmountHeading = reader.Say("Open {0}", content.Settings.Currency),
            Totals = totals,
            Closing = [.. Closing(invoice, reader)],
            Reader = reader,
        };
    }

    private static string Opening(ReminderDue reminder) =>
        reminder.Level.Level == 1
            ? "This may have slipped your mind: the invoice below is still open. If you have paid in the last few days, please take this letter as settled."
            : "The invoice below is still open although we have reminded you. Please pay by the day named above, or tell us what is in the way.";

    private static IEnumerable<string> Closing(IssuedInvoice invoice, LetterReader reader) =>
        invoice.Content.PaymentMeans.Where(m => m.NamesAccount).Select(m => InvoiceWords.Transfer(m, invoice.Number, reader));
}
