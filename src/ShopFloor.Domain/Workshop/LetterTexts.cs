namespace ShopFloor.Domain.Workshop;

/// <summary>The owner's words on letters; what the law or the order asks for stands there by itself.</summary>
public sealed record LetterTexts
{
    /// <summary>Longest of these texts.</summary>
    public const int Most = 1000;

    /// <summary>Above the lines of a quote.</summary>
    public string QuoteOpening { get; init; } = "Thank you for asking. This is what we offer you.";

    /// <summary>Below a quote; may be empty.</summary>
    public string QuoteClosing { get; init; } = "";

    /// <summary>Above the lines of an order confirmation.</summary>
    public string ConfirmationOpening { get; init; } = "Thank you for your order. This is what we agreed.";

    /// <summary>Below an order confirmation; may be empty.</summary>
    public string ConfirmationClosing { get; init; } = "";

    /// <summary>Above the lines of a delivery note.</summary>
    public string DeliveryOpening { get; init; } = "We hand over to you:";

    /// <summary>Below a delivery note; may be empty.</summary>
    public string DeliveryClosing { get; init; } = "";

    /// <summary>Below an invoice; may be empty.</summary>
    public string InvoiceClosing { get; init; } = "";

    /// <summary>Above the first reminder.</summary>
    public string FirstReminder { get; init; } =
        "This may have slipped your mind: the invoice below is still open. If you have paid in the last few days, please take this letter as settled.";

    /// <summary>Above later reminders.</summary>
    public string LaterReminder { get; init; } =
        "The invoice below is still open although we have reminded you. Please pay by the day named above, or tell us what is in the way.";

    /// <summary>The texts with what is filled into them.</summary>
    public static IReadOnlyList<LetterTextOf> All { get; } =
    [
        Of(nameof(QuoteOpening), "Quote, above the lines", t => t.QuoteOpening, (t, v) => t with { QuoteOpening = v }),
        Of(nameof(QuoteClosing), "Quote, at the end", t => t.QuoteClosing, (t, v) => t with { QuoteClosing = v }),
        Of(
            nameof(ConfirmationOpening),
            "Order confirmation, above the lines",
            t => t.ConfirmationOpening,
            (t, v) => t with { ConfirmationOpening = v }
        ),
        Of(
            nameof(ConfirmationClosing),
            "Order confirmation, at the end",
            t => t.ConfirmationClosing,
            (t, v) => t with { ConfirmationClosing = v }
        ),
        Of(nameof(DeliveryOpening), "Delivery note, above the lines", t => t.DeliveryOpening, (t, v) => t with { DeliveryOpening = v }),
        Of(nameof(DeliveryClosing), "Delivery note, at the end", t => t.DeliveryClosing, (t, v) => t with { DeliveryClosing = v }),
        Of(nameof(InvoiceClosing), "Invoice, at the end", t => t.InvoiceClosing, (t, v) => t with { InvoiceClosing = v }),
        OfReminder(
            nameof(FirstReminder),
            "First reminder, above the invoice",
            t => t.FirstReminder,
            (t, v) => t with { FirstReminder = v }
        ),
        OfReminder(
            nameof(LaterReminder),
            "Later reminders, above the invoice",
            t => t.LaterReminder,
            (t, v) => t with { LaterReminder = v }
        ),
    ];

    /// <summary>What is wrong, beside its field; empty when sound.</summary>
    public IReadOnlyList<Refusal> Check() => [.. All.SelectMany(Faults)];

    private IEnumerable<Refusal> Faults(LetterTextOf text)
    {
        var words = text.Get(this);
        if (words.Length > Most)
            yield return new Refusal("letter-text", $"At most {Most} characters.", text.Name);
        if (TextPlaces.Fault(words, text.Places) is { } fault)
            yield return new Refusal("letter-text", fault, text.Name);
    }

    private static LetterTextOf Of(string name, string label, Func<LetterTexts, string> get, Func<LetterTexts, string, LetterTexts> with) =>
        new(name, label, [TextPlaces.Name, TextPlaces.Order, TextPlaces.Workshop], get, with);

    private static LetterTextOf OfReminder(
        string name,
        string label,
        Func<LetterTexts, string> get,
        Func<LetterTexts, string, LetterTexts> with
    ) => new(name, label, [TextPlaces.Name, TextPlaces.Invoice, TextPlaces.Workshop], get, with);
}

/// <summary>One of the texts.</summary>
/// <param name="Name">Name of its field.</param>
/// <param name="Label">Where it stands.</param>
/// <param name="Places">What is filled in.</param>
/// <param name="Get">The text now.</param>
/// <param name="With">The texts with another one.</param>
public sealed record LetterTextOf(
    string Name,
    string Label,
    IReadOnlyList<string> Places,
    Func<LetterTexts, string> Get,
    Func<LetterTexts, string, LetterTexts> With
);
