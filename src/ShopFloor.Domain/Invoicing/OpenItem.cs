namespace ShopFloor.Domain.Invoicing;

/// <summary>Money received for a document; negative when it was paid back.</summary>
/// <param name="Day">Day of receipt.</param>
/// <param name="Amount">In the document's currency, not zero.</param>
/// <param name="Means">UNTDID 4461, see <see cref="PaymentMeansCodes"/>.</param>
/// <param name="Reference">The payer's words or the bank's number, or null.</param>
public sealed record Payment(DateOnly Day, decimal Amount, string Means, string? Reference = null);

/// <summary>How an invoice stands.</summary>
public enum OpenState
{
    /// <summary>Nothing has come in.</summary>
    Unpaid,

    /// <summary>A part is paid or credited.</summary>
    PartlyPaid,

    /// <summary>Nothing is left to pay.</summary>
    Settled,

    /// <summary>More has come in than was due: to pay back or set off.</summary>
    Overpaid,
}

/// <summary>An invoice against what was paid and credited.</summary>
/// <param name="Invoice">The invoice or deposit invoice.</param>
/// <param name="Payments">All payments for it.</param>
/// <param name="CreditNotes">All credit notes for it.</param>
public sealed record OpenItem(IssuedInvoice Invoice, IReadOnlyList<Payment> Payments, IReadOnlyList<IssuedInvoice> CreditNotes)
{
    /// <summary>Sum of the payments.</summary>
    public decimal Received => Payments.Sum(p => p.Amount);

    /// <summary>All money that lies on it: the payments, and what was paid before it was issued and is taken off its total.</summary>
    public decimal Held => Received + Invoice.Totals.Paid;

    /// <summary>Sum of the credit notes.</summary>
    public decimal Credited => CreditNotes.Sum(n => n.Totals.Payable);

    /// <summary>Reminders sent for it. The last one says what fee and interest are asked for: it takes the place of the letters before.</summary>
    public IReadOnlyList<ReminderSent> Sent { get; init; } = [];

    /// <summary>Fee and interest that the last reminder asks for beside the invoice.</summary>
    public decimal Extras => ExtrasOf(Sent);

    /// <summary>
    /// Still to pay of the invoice; negative when too much has come in. Money counts for the invoice first, then for interest, then for the fee, so that
    /// an invoice whose reminder is only paid without them is settled and nobody is reminded of a fee alone.
    /// </summary>
    public decimal Outstanding => Left(Balance, Extras);

    /// <summary>Still to pay with what the last reminder asks for.</summary>
    public decimal Asked => Math.Max(0m, Balance + Extras);

    /// <summary>What came in for interest.</summary>
    public decimal InterestReceived => Math.Clamp(-Balance, 0m, Last(Sent)?.Interest ?? 0m);

    /// <summary>What came in for the fee.</summary>
    public decimal FeeReceived => Math.Clamp(-Balance, 0m, Extras) - InterestReceived;

    private decimal Balance => Invoice.Totals.Due - Received - Credited;

    /// <summary>Fee and interest that the last of these letters asks for.</summary>
    public static decimal ExtrasOf(IReadOnlyList<ReminderSent> sent) => Last(sent) is { } last ? last.Fee + last.Interest : 0m;

    private static ReminderSent? Last(IReadOnlyList<ReminderSent> sent) => sent.OrderBy(s => s.Day).ThenBy(s => s.Level).LastOrDefault();

    /// <summary>What is left of an invoice: money beyond it is too much only when it is beyond fee and interest too.</summary>
    /// <param name="balance">The invoice less what was received and credited.</param>
    /// <param name="extras">Fee and interest asked for.</param>
    public static decimal Left(decimal balance, decimal extras) => balance >= 0m ? balance : Math.Min(0m, balance + extras);

    /// <summary>How it stands.</summary>
    public OpenState State =>
        Outstanding switch
        {
            < 0 => OpenState.Overpaid,
            0 => OpenState.Settled,
            _ when Received != 0m || Credited != 0m => OpenState.PartlyPaid,
            _ => OpenState.Unpaid,
        };

    /// <summary>Whole days after the due date; 0 when not late, settled, or without a due date.</summary>
    public int DaysLate(DateOnly today) =>
        Outstanding > 0m && Invoice.Content.DueDate is { } due ? Math.Max(0, today.DayNumber - due.DayNumber) : 0;

    /// <summary>Days before an invoice on which money for it may have come already (common practice, no source).</summary>
    public const int DaysBefore = 30;

    /// <summary>The first day on which money for it can have come: what is paid before the invoice is paid for the order.</summary>
    /// <param name="ordered">The day of the order; null when there is none.</param>
    public DateOnly Earliest(DateOnly? ordered)
    {
        var plausible = Invoice.Date.AddDays(-DaysBefore);
        return ordered is { } day && day < plausible ? day : plausible;
    }

    /// <summary>What is wrong with a new payment; empty when nothing is. Paying too much is allowed and shown.</summary>
    /// <param name="payment">The payment.</param>
    /// <param name="today">The day it is entered.</param>
    /// <param name="ordered">The day of the order; null when there is none.</param>
    public IReadOnlyList<Refusal> CheckPayment(Payment payment, DateOnly today, DateOnly? ordered = null)
    {
        List<Refusal> found = [];
        if (payment.Amount == 0m || Math.Abs(payment.Amount) > 1_000_000_000m || Quantities.Money.Round(payment.Amount) != payment.Amount)
            found.Add(
                new(
                    "payment-amount",
                    "Enter the amount received, with at most two decimals; with a minus when it was paid back.",
                    nameof(payment.Amount)
                )
            );
        if (payment.Amount < 0m && -payment.Amount > Held)
            found.Add(new("payment-back", "More cannot be paid back than was received.", nameof(payment.Amount)));
        if (payment.Day > today)
            found.Add(new("payment-day", "The day of payment lies in the future.", nameof(payment.Day)));
        else if (payment.Day < Earliest(ordered))
            found.Add(new("payment-day", "The day of payment lies long before the invoice: look at the year.", nameof(payment.Day)));
        if (Invoice.Content.Kind == DocumentKind.CreditNote)
            found.Add(
                new(
                    "payment-on-credit-note",
                    "Payments are entered on invoices; money given back is a negative payment on the invoice credited."
                )
            );
        return found;
    }
}
