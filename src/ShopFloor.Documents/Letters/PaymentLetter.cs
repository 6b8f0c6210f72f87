namespace ShopFloor.Documents.Letters;

/// <summary>A payment as it stands on its receipt.</summary>
/// <param name="Number">Number of the receipt.</param>
/// <param name="To">The customer, one line each.</param>
/// <param name="Order">Number of the order.</param>
/// <param name="Paid">When, how and how much; below zero when it was paid back.</param>
/// <param name="Currency">ISO 4217.</param>
public sealed record PaymentPaper(string Number, IReadOnlyList<string> To, string Order, PaidPart Paid, string Currency)
{
    /// <summary>The invoice that it is for; empty: on account of the order.</summary>
    public string Invoice { get; init; } = "";

    /// <summary>What the tax is called.</summary>
    public string TaxLabel { get; init; } = "VAT";

    /// <summary>The day it is printed.</summary>
    public DateOnly Today { get; init; }

    /// <summary>What is left to pay for the order on that day; null: it is not said.</summary>
    public decimal? Left { get; init; }

    internal bool IsBack => Paid.Amount < 0m;
}

/// <summary>The receipt for a payment. It proves that money changed hands and is no invoice.</summary>
public static class PaymentLetter
{
    /// <summary>Spells it out.</summary>
    public static Letter Of(PaymentPaper paper, LetterReader reader)
    {
        var amount = reader.Amount(Math.Abs(paper.Paid.Amount));
        return new Letter(
            paper.IsBack ? reader.Say("Paid back {0}", paper.Number) : reader.Say("Payment receipt {0}", paper.Number),
            paper.To,
            [.. Facts(paper, reader)],
            [new LetterLine("1", What(paper, reader), "", "", amount)]
        )
        {
            AmountHeading = reader.Say("Amount {0}", paper.Currency),
            Totals = [new(How(paper, reader), $"{amount} {paper.Currency}", Strong: true)],
            Closing = [.. Closing(paper, reader)],
            Signatures =
                paper.Paid.Means != "cash" ? []
                : paper.IsBack ? [reader.Say("Received: day, name, signature")]
                : [reader.Say("Received for the workshop: name, signature")],
            Reader = reader,
        };
    }

    private static IEnumerable<LetterFact> Facts(PaymentPaper paper, LetterReader reader)
    {
        yield return new(paper.IsBack ? reader.Say("Paid back on") : reader.Say("Received on"), reader.Day(paper.Paid.Day));
        yield return new(reader.Say("Order"), paper.Order);
        if (paper.Invoice.Length > 0)
            yield return new(reader.Say("For invoice"), paper.Invoice);
        yield return new(reader.Say("Printed on"), reader.Day(paper.Today));
    }

    private static string What(PaymentPaper paper, LetterReader reader) =>
        (paper.IsBack, paper.Invoice.Length > 0) switch
        {
            (false, true) => reader.Say("Payment for invoice {0}", paper.Invoice),
            (false, false) => reader.Say("Payment on account of order {0}", paper.Order),
            (true, true) => reader.Say("Paid back to you for invoice {0}", paper.Invoice),
            _ => reader.Say("Paid back to you for order {0}", paper.Order),
        };

    private static string How(PaymentPaper paper, LetterReader reader) =>
        (paper.Paid.Means, paper.IsBack) switch
        {
            ("cash", false) => reader.Say("Received in cash"),
            ("card", false) => reader.Say("Received by card"),
            ("transfer", false) => reader.Say("Received by transfer"),
            ("cash", true) => reader.Say("Paid back in cash"),
            ("card", true) => reader.Say("Paid back by card"),
            _ => reader.Say("Paid back by transfer"),
        };

    private static IEnumerable<string> Closing(PaymentPaper paper, LetterReader reader)
    {
        yield return paper.Invoice.Length > 0
            ? reader.Say("This paper is no invoice: what was sold, and its tax, stand on invoice {0}.", paper.Invoice)
            : reader.Say("This paper is no invoice and shows no {0}: that stands on the invoice of the order.", reader.Say(paper.TaxLabel));
        if (paper.Left is > 0m and var left)
            yield return reader.Say(
                "Still to pay for order {0} as of {1}: {2}.",
                paper.Order,
                reader.Day(paper.Today),
                $"{reader.Amount(left)} {paper.Currency}"
            );
        else if (paper.Left == 0m)
            yield return reader.Say("Nothing is left to pay for order {0} as of {1}.", paper.Order, reader.Day(paper.Today));
        if (!paper.IsBack)
            yield return reader.Say("Thank you.");
    }
}
