using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>An overdue reminder, friendly at first.</summary>
public static class ReminderLetter
{
    /// <summary>Spells the reminder out.</summary>
    /// <param name="invoice">The invoice not yet paid.</param>
    /// <param name="reminder">What is due.</param>
    /// <param name="today">Day of the letter.</param>
    /// <param name="numbers">How the reader writes numbers and days.</param>
    public static Letter Of(IssuedInvoice invoice, ReminderDue reminder, DateOnly today, LetterNumbers numbers)
    {
        var content = invoice.Content;
        var due = content.DueDate is { } day ? $", due {numbers.Day(day)}" : "";
        List<LetterTotal> totals = [];
        if (reminder.Level.Fee != 0m)
            totals.Add(new("Fee", numbers.Amount(reminder.Level.Fee)));
        if (reminder.Interest != 0m)
            totals.Add(
                new(
                    $"Interest {numbers.Percent(reminder.Level.InterestPercentPerYear)} a year, {reminder.DaysLate} days",
                    numbers.Amount(reminder.Interest)
                )
            );
        totals.Add(new("To pay", numbers.Amount(reminder.Total), Strong: true));
        return new Letter(
            $"{reminder.Level.Name} for invoice {invoice.Number}",
            InvoiceLetter.To(content.Buyer, content.Seller.Address.Country),
            [new("Date", numbers.Day(today)), new("Pay by", numbers.Day(reminder.PayUntil))],
            [
                new("1", $"Invoice {invoice.Number} of {numbers.Day(invoice.Date)}{due}", "", Amount: numbers.Amount(reminder.Outstanding))
                {
                    Carry = reminder.Outstanding,
                },
            ]
        )
        {
            Opening = Opening(reminder),
            AmountHeading = $"Open {content.Settings.Currency}",
            Totals = totals,
            Closing = [.. Closing(invoice)],
            Numbers = numbers,
        };
    }

    private static string Opening(ReminderDue reminder) =>
        reminder.Level.Level == 1
            ? "This may have slipped your mind: the invoice below is still open. If you have paid in the last few days, please take this letter as settled."
            : "The invoice below is still open although we have reminded you. Please pay by the day named above, or tell us what is in the way.";

    private static IEnumerable<string> Closing(IssuedInvoice invoice) =>
        invoice.Content.PaymentMeans.Where(m => m.Account is not null).Select(m => InvoiceWords.Transfer(m, invoice.Number));
}
