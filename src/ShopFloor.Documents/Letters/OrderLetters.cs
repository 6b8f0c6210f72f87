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

    /// <summary>The tax of an offer by its rates, in it or on top of it; empty where it is said in words alone.</summary>
    public IReadOnlyList<OrderPaperTax> Taxes { get; init; } = [];

    /// <summary>What stands about tax, e.g. <c>Prices include 20 % VAT.</c></summary>
    public string TaxWords { get; init; } = "";

    /// <summary>What is written on the pieces, a paragraph for each line that has texts: the one thing that only the customer can check.</summary>
    public IReadOnlyList<string> Texts { get; init; } = [];

    /// <summary>What is said of seasons that are near: until when orders for them are taken, and whether this one is in time.</summary>
    public IReadOnlyList<string> Seasons { get; init; } = [];

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

/// <summary>The tax of one rate on the paper of an offer.</summary>
/// <param name="Label">What the tax is called.</param>
/// <param name="Percent">Its rate.</param>
/// <param name="Amount">What it comes to.</param>
/// <param name="IsContained">True: the prices contain it; false: it comes on top.</param>
public sealed record OrderPaperTax(string Label, decimal Percent, decimal Amount, bool IsContained);

/// <summary>Letters about an order: quote, confirmation, delivery note, gift note.</summary>
public static class OrderLetters
{
    /// <summary>An offer at fixed prices.</summary>
    public static Letter Quote(OrderPaper paper, LetterReader reader) =>
        Priced(reader.Say("Quote {0}", paper.Number), paper, reader) with
        {
            Opening = reader.Say("Thank you for asking. This is what we offer you."),
            Closing =
            [
                .. Closing(paper, reader, "It would be ready on {0} if you order today."),
                paper.ValidUntil is { } until
                    ? reader.Say("These prices hold if you order by {0}.", reader.Day(until))
                    : reader.Say("These prices hold if you order soon."),
            ],
        };

    /// <summary>What was agreed.</summary>
    public static Letter Confirmation(OrderPaper paper, LetterReader reader) =>
        Priced(reader.Say("Order {0}", paper.Number), paper, reader) with
        {
            Opening = reader.Say("Thank you for your order. This is what we agreed."),
            Closing = [.. Closing(paper, reader, "We expect to have it ready on {0}.")],
        };

    /// <summary>What was handed over, without prices, to be signed.</summary>
    public static Letter DeliveryNote(OrderPaper paper, LetterReader reader) =>
        new(
            reader.Say("Delivery note {0}", paper.Number),
            paper.To,
            [new(reader.Say("Date"), reader.Day(paper.Date))],
            [.. Unpriced(paper, reader)]
        )
        {
            Opening = reader.Say("We hand over to you:"),
            Closing = paper.Words,
            Signatures = [reader.Say("Received in good order: day, name, signature")],
            Reader = reader,
        };

    /// <summary>A note to go with a present: no prices, no order facts but the pieces.</summary>
    /// <param name="paper">The order.</param>
    /// <param name="message">The giver's words, may have several lines; empty for none.</param>
    /// <param name="reader">Who reads it: language and numbers.</param>
    public static Letter GiftNote(OrderPaper paper, string message, LetterReader reader) =>
        new(reader.Say("A present for you"), paper.To, [], [.. Unpriced(paper, reader)]) { Opening = message, Reader = reader };

    /// <summary>
    /// An offer of something that is not ordered yet: nothing is promised by it but the prices, until their day, and nothing is to be paid for it.
    /// </summary>
    public static Letter Offer(OrderPaper paper, LetterReader reader)
    {
        var quote = Quote(
            paper with
            {
                Words =
                [
                    .. paper.Promised is null ? Enumerable.Empty<string>() : [reader.Say("That day is held for you only once you order.")],
                    .. paper.Words,
                    reader.Say("This is an offer and no invoice: nothing is to be paid before you order."),
                ],
            },
            reader
        );
        List<LetterFact> facts = [new(reader.Say("Date"), reader.Day(paper.Date))];
        if (paper.ValidUntil is { } until)
            facts.Add(new(reader.Say("Holds until"), reader.Day(until)));
        return quote with { Facts = facts };
    }

    private static IEnumerable<LetterTotal> Sums(OrderPaper paper, LetterReader reader)
    {
        var (total, onTop) = (paper.Lines.Sum(l => l.Amount), paper.Taxes.Where(t => !t.IsContained).ToList());
        yield return new(reader.Say("Total"), reader.Amount(total), Strong: onTop.Count == 0);
        foreach (var tax in paper.Taxes)
            yield return new(
                tax.IsContained
                    ? reader.Say("{0} {1} in it", reader.Say(tax.Label), reader.Percent(tax.Percent))
                    : $"{reader.Say(tax.Label)} {reader.Percent(tax.Percent)}",
                reader.Amount(tax.Amount)
            );
        if (onTop.Count > 0)
            yield return new(
                reader.Say("Total with {0}", reader.Say(onTop[0].Label)),
                reader.Amount(total + onTop.Sum(t => t.Amount)),
                Strong: true
            );
    }

    private static Letter Priced(string title, OrderPaper paper, LetterReader reader)
    {
        List<LetterFact> facts = [new(reader.Say("Date"), reader.Day(paper.Date))];
        if (paper.Promised is { } promised)
            facts.Add(new(reader.Say("Ready"), reader.Day(promised)));
        List<LetterTotal> totals = [.. Sums(paper, reader)];
        if (paper.Deposit != 0m)
            totals.Add(
                new(
                    paper.DepositInvoice.Length > 0
                        ? reader.Say("Deposit, invoice {0}", paper.DepositInvoice)
                        : reader.Say("Deposit, to be paid with the order"),
                    reader.Amount(paper.Deposit)
                )
            );
        return new Letter(title, paper.To, facts, [.. paper.Lines.Select((l, i) => Line(l, i, reader))])
        {
            PriceHeading = reader.Say("Price"),
            AmountHeading = reader.Say("Amount {0}", paper.Currency),
            Totals = totals,
            Reader = reader,
        };
    }

    private static LetterLine Line(OrderPaperLine line, int index, LetterReader reader) =>
        new(Position(index), line.Name, reader.Quantity(line.Quantity), reader.Price(line.UnitPrice), reader.Amount(line.Amount))
        {
            Note = line.Note,
            Carry = line.Amount,
        };

    private static IEnumerable<LetterLine> Unpriced(OrderPaper paper, LetterReader reader) =>
        paper.Lines.Select((l, i) => new LetterLine(Position(i), l.Name, reader.Quantity(l.Quantity)) { Note = l.Note });

    private static string Position(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<string> Closing(OrderPaper paper, LetterReader reader, string ready)
    {
        foreach (var text in paper.Texts)
            yield return text;
        if (paper.TaxWords.Length > 0)
            yield return paper.TaxWords;
        if (paper.Promised is { } promised)
            yield return reader.Say(ready, reader.Day(promised));
        foreach (var season in paper.Seasons)
            yield return season;
        foreach (var words in paper.Words)
            yield return words;
    }
}
