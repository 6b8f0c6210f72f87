using ShopFloor.Domain.Quantities;

namespace ShopFloor.Documents.Letters;

/// <summary>An order or quote as it shall stand on paper.</summary>
/// <param name="Number">Its code.</param>
/// <param name="Date">Day of the letter.</param>
/// <param name="To">Name and address, one line each.</param>
/// <param name="Lines">What was asked for.</param>
/// <param name="Currency">ISO 4217.</param>
public sealed record OrderPaper(
    string Number,
    DateOnly Date,
    IReadOnlyList<string> To,
    IReadOnlyList<OrderPaperLine> Lines,
    string Currency
)
{
    /// <summary>Promised day, or null.</summary>
    public DateOnly? Promised { get; init; }

    /// <summary>A quote holds until this day, or null.</summary>
    public DateOnly? ValidUntil { get; init; }

    /// <summary>To be paid on booking, 0 for nothing.</summary>
    public decimal Deposit { get; init; }

    /// <summary>Number of the invoice of the deposit; empty while there is none.</summary>
    public string DepositInvoice { get; init; } = "";

    /// <summary>What stands about tax, e.g. <c>Prices include 20 % VAT.</c></summary>
    public string TaxWords { get; init; } = "";

    /// <summary>Further words, such as the risk accepted on an own piece.</summary>
    public IReadOnlyList<string> Words { get; init; } = [];
}

/// <summary>One line of an order on paper.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Note">Material, size, finish, picture; own piece or blank.</param>
/// <param name="Quantity">Number of pieces.</param>
/// <param name="UnitPrice">Price of one as shown.</param>
public sealed record OrderPaperLine(string Name, string Note, decimal Quantity, decimal UnitPrice)
{
    /// <summary>Quantity × price, rounded.</summary>
    public decimal Amount => Money.Round(Quantity * UnitPrice);
}

/// <summary>Letters about an order: quote, confirmation, delivery note, gift note.</summary>
public static class OrderLetters
{
    /// <summary>An offer at fixed prices.</summary>
    public static Letter Quote(OrderPaper paper, LetterNumbers numbers) =>
        Priced($"Quote {paper.Number}", paper, numbers) with
        {
            Opening = "Thank you for asking. This is what we offer you.",
            Closing =
            [
                .. Closing(paper, numbers),
                paper.ValidUntil is { } until
                    ? $"These prices hold if you order by {numbers.Day(until)}."
                    : "These prices hold if you order soon.",
            ],
        };

    /// <summary>What was agreed.</summary>
    public static Letter Confirmation(OrderPaper paper, LetterNumbers numbers) =>
        Priced($"Order {paper.Number}", paper, numbers) with
        {
            Opening = "Thank you for your order. This is what we agreed.",
            Closing = [.. Closing(paper, numbers)],
        };

    /// <summary>What was handed over, without prices, to be signed.</summary>
    public static Letter DeliveryNote(OrderPaper paper, LetterNumbers numbers) =>
        new($"Delivery note {paper.Number}", paper.To, [new("Date", numbers.Day(paper.Date))], [.. Unpriced(paper, numbers)])
        {
            Opening = "We hand over to you:",
            Closing = paper.Words,
            Signatures = ["Received in good order: day, name, signature"],
            Numbers = numbers,
        };

    /// <summary>A note to go with a present: no prices, no order facts but the pieces.</summary>
    /// <param name="paper">The order.</param>
    /// <param name="message">The giver's words, may have several lines; empty for none.</param>
    /// <param name="numbers">How the reader writes numbers.</param>
    public static Letter GiftNote(OrderPaper paper, string message, LetterNumbers numbers) =>
        new("A present for you", paper.To, [], [.. Unpriced(paper, numbers)]) { Opening = message, Numbers = numbers };

    private static Letter Priced(string title, OrderPaper paper, LetterNumbers numbers)
    {
        List<LetterFact> facts = [new("Date", numbers.Day(paper.Date))];
        if (paper.Promised is { } promised)
            facts.Add(new("Ready", numbers.Day(promised)));
        var total = paper.Lines.Sum(l => l.Amount);
        List<LetterTotal> totals = [new("Total", numbers.Amount(total), Strong: true)];
        if (paper.Deposit != 0m)
            totals.Add(
                new(
                    paper.DepositInvoice.Length > 0 ? $"Deposit, invoice {paper.DepositInvoice}" : "Deposit, to be paid with the order",
                    numbers.Amount(paper.Deposit)
                )
            );
        return new Letter(title, paper.To, facts, [.. paper.Lines.Select((l, i) => Line(l, i, numbers))])
        {
            PriceHeading = "Price",
            AmountHeading = $"Amount {paper.Currency}",
            Totals = totals,
            Numbers = numbers,
        };
    }

    private static LetterLine Line(OrderPaperLine line, int index, LetterNumbers numbers) =>
        new(Position(index), line.Name, numbers.Quantity(line.Quantity), numbers.Price(line.UnitPrice), numbers.Amount(line.Amount))
        {
            Note = line.Note,
            Carry = line.Amount,
        };

    private static IEnumerable<LetterLine> Unpriced(OrderPaper paper, LetterNumbers numbers) =>
        paper.Lines.Select((l, i) => new LetterLine(Position(i), l.Name, numbers.Quantity(l.Quantity)) { Note = l.Note });

    private static string Position(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<string> Closing(OrderPaper paper, LetterNumbers numbers)
    {
        if (paper.TaxWords.Length > 0)
            yield return paper.TaxWords;
        if (paper.Promised is { } promised)
            yield return $"We expect to have it ready on {numbers.Day(promised)}.";
        foreach (var words in paper.Words)
            yield return words;
    }
}
