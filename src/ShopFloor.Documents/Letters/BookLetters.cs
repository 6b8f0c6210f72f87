using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>A payment on the paper of a day's takings.</summary>
/// <param name="Means"><c>cash</c>, <c>card</c> or <c>transfer</c>.</param>
/// <param name="Amount">Below zero: paid back.</param>
/// <param name="Document">Number of the document; empty: on account.</param>
/// <param name="Order">Number of the order; null: of none.</param>
public sealed record TakingsRow(string Means, decimal Amount, string Document, int? Order, string Customer, string Note);

/// <summary>What was asked for at a rate of tax in a month.</summary>
/// <param name="Category">Letter of EN 16931.</param>
/// <param name="Percent">The rate.</param>
/// <param name="Documents">How many documents have it.</param>
/// <param name="Net">Without tax.</param>
/// <param name="Tax">The tax.</param>
public sealed record RateSum(string Category, decimal Percent, int Documents, decimal Net, decimal Tax);

/// <summary>A month on paper.</summary>
/// <param name="Month">Its first day.</param>
/// <param name="Rates">By rate.</param>
/// <param name="Rounding">What the documents were rounded by.</param>
/// <param name="Kinds">What the documents of each kind come to, with tax.</param>
/// <param name="Payments">What came in by each way.</param>
public sealed record MonthPaper(
    DateOnly Month,
    string Currency,
    string TaxLabel,
    IReadOnlyList<RateSum> Rates,
    decimal Rounding,
    IReadOnlyList<(string Kind, int Count, decimal Total)> Kinds,
    IReadOnlyList<(string Means, int Count, decimal Amount)> Payments
);

/// <summary>Papers for the workshop's own books.</summary>
public static class BookLetters
{
    /// <summary>What came in on a day, payment by payment, and by way of paying.</summary>
    public static Letter Takings(DateOnly day, string currency, IReadOnlyList<TakingsRow> rows, LetterReader reader) =>
        new(
            reader.Say("Takings of {0}", reader.Day(day)),
            [],
            [new(reader.Say("Date"), reader.Day(day)), new(reader.Say("Payments"), Count(rows.Count, reader))],
            [
                .. rows.Select(
                    (r, i) =>
                        new LetterLine(Count(i + 1, reader), What(r, reader), "", Means(r.Means, reader), reader.Amount(r.Amount))
                        {
                            Note = r.Note,
                            Carry = r.Amount,
                        }
                ),
            ]
        )
        {
            PriceHeading = reader.Say("How"),
            AmountHeading = reader.Say("Amount {0}", currency),
            Totals =
            [
                .. new[] { "cash", "card", "transfer" }.Select(m => new LetterTotal(
                    Means(m, reader),
                    reader.Amount(rows.Where(r => r.Means == m).Sum(r => r.Amount))
                )),
                new(reader.Say("Takings"), reader.Amount(rows.Sum(r => r.Amount)), Strong: true),
            ],
            Closing = rows.Count == 0 ? [reader.Say("Nothing came in on this day.")] : [],
            Reader = reader,
        };

    /// <summary>The sums of a month: by rate of tax, by kind of document, and what came in.</summary>
    public static Letter Month(MonthPaper month, LetterReader reader)
    {
        var label = reader.Say(month.TaxLabel);
        var (net, tax) = (month.Rates.Sum(r => r.Net), month.Rates.Sum(r => r.Tax));
        return new Letter(
            reader.Say("Books of {0}", month.Month.ToString("MMMM yyyy", reader.Culture)),
            [],
            [new(reader.Say("Documents"), Count(month.Kinds.Sum(k => k.Count), reader))],
            [
                .. month.Rates.Select(r => new LetterLine(
                    r.Category,
                    $"{label} {reader.Percent(r.Percent)}",
                    Count(r.Documents, reader),
                    reader.Amount(r.Net),
                    reader.Amount(r.Tax)
                )),
            ]
        )
        {
            PriceHeading = reader.Say("Without {0}", label),
            AmountHeading = $"{label} {month.Currency}",
            Totals =
            [
                new(reader.Say("Without {0}", label), reader.Amount(net)),
                new(label, reader.Amount(tax)),
                new(reader.Say("Rounding"), reader.Amount(month.Rounding)),
                new(reader.Say("Total with {0}", label), reader.Amount(net + tax + month.Rounding), Strong: true),
                .. month.Kinds.Select(k => new LetterTotal($"{Kind(k.Kind, reader)} ({Count(k.Count, reader)})", reader.Amount(k.Total))),
                new(reader.Say("Payments received"), reader.Amount(month.Payments.Sum(p => p.Amount)), Strong: true),
                .. month.Payments.Select(p => new LetterTotal(
                    $"{Means(p.Means, reader)} ({Count(p.Count, reader)})",
                    reader.Amount(p.Amount)
                )),
            ],
            Closing =
            [
                reader.Say(
                    "By the day of issue. Credit notes are taken off. A deposit counts once: the invoice that takes it off is that much less."
                ),
            ],
            Reader = reader,
        };
    }

    private static string Count(int count, LetterReader reader) => reader.Quantity(count);

    private static string What(TakingsRow row, LetterReader reader)
    {
        var of = row.Order is { } order ? reader.Say("Order {0}", order.ToString(CultureInfo.InvariantCulture)) : "";
        return string.Join(", ", new[] { row.Document, of, row.Customer }.Where(w => w.Length > 0));
    }

    private static string Means(string means, LetterReader reader) =>
        means switch
        {
            "cash" => reader.Say("Cash"),
            "card" => reader.Say("Card"),
            _ => reader.Say("Transfer"),
        };

    private static string Kind(string kind, LetterReader reader) =>
        kind switch
        {
            DocumentWords.PartInvoice => reader.Say("Part invoices"),
            DocumentWords.DepositInvoice => reader.Say("Deposit invoices"),
            DocumentWords.CreditNote => reader.Say("Credit notes"),
            DocumentWords.Receipt => reader.Say("Receipts"),
            _ => reader.Say("Invoices"),
        };
}
