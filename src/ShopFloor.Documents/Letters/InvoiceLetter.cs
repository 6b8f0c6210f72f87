using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>The readable paper of an issued document: invoice, part invoice, deposit invoice, credit note, receipt.</summary>
public static class InvoiceLetter
{
    /// <summary>Spells the document out.</summary>
    /// <param name="invoice">The document as issued.</param>
    /// <param name="reader">Who reads it: language, numbers and days.</param>
    public static Letter Of(IssuedInvoice invoice, LetterReader reader)
    {
        var content = invoice.Content;
        var gross = content.Settings.PricesIncludeTax;
        return new Letter(
            reader.Say(Name(content.Kind), invoice.Number),
            To(content.Buyer, content.Seller.Address.Country, reader),
            [.. Facts(invoice, reader)],
            [.. content.Lines.Select(l => Line(l, gross, reader))]
        )
        {
            Opening = Opening(content, reader),
            PriceHeading = content.Lines.All(l => l.Quantity is 1m or -1m) ? "" : reader.Say("Price"),
            AmountHeading = reader.Say("Amount {0}", content.Settings.Currency),
            Totals = InvoiceSums.Of(invoice, reader),
            Closing = [.. Closing(invoice, reader)],
            Reader = reader,
        };
    }

    /// <summary>The paper as it would be issued: marked on every page, and without a number, which only the issued one gets.</summary>
    /// <param name="draft">What would be issued.</param>
    /// <param name="day">The day it would be issued on.</param>
    /// <param name="reader">Who reads it: language, numbers and days.</param>
    public static Letter OfDraft(InvoiceDraft draft, DateOnly day, LetterReader reader) =>
        Of(new IssuedInvoice(reader.Say("the number of the invoice"), day, draft, draft.Totals()), reader) with
        {
            Title = reader.Say("{0}, not issued", reader.Say(Name(draft.Kind), "").Trim()),
            Mark = reader.Say("Draft to look at: not an invoice, no number was given."),
        };

    /// <summary>Lines of an address as the post wants them.</summary>
    /// <param name="party">Whose, or null for nobody.</param>
    /// <param name="home">The sender's country, which is left out.</param>
    /// <param name="reader">Who reads it.</param>
    public static IReadOnlyList<string> To(Party? party, string home, LetterReader reader) =>
        party is null
            ? []
            : Present(
                party.TradingName is null ? party.Name : $"{party.Name} ({party.TradingName})",
                party.Contact,
                party.Address.Street,
                party.Address.Extra,
                $"{party.Address.PostCode} {party.Address.City}",
                party.Address.Region,
                string.Equals(party.Address.Country, home, StringComparison.Ordinal) ? null : reader.Country(party.Address.Country)
            );

    /// <summary>What a line shows for its amount: with tax where prices include it.</summary>
    internal static decimal Amount(InvoiceLine line, bool gross) =>
        !gross ? line.Net() : line.Shown?.Amount ?? Domain.Quantities.Money.Round(line.Net() * (1m + line.Tax.Percent / 100m));

    private static bool Asks(IssuedInvoice invoice) => invoice.Content.Kind != DocumentKind.CreditNote && invoice.Totals.Due > 0m;

    private static string Name(DocumentKind kind) =>
        kind switch
        {
            DocumentKind.PartInvoice => "Part invoice {0}",
            DocumentKind.DepositInvoice => "Deposit invoice {0}",
            DocumentKind.CreditNote => "Credit note {0}",
            DocumentKind.Receipt => "Receipt {0}",
            _ => "Invoice {0}",
        };

    private static List<string> Present(params string?[] lines) =>
        [.. lines.Where(l => !string.IsNullOrWhiteSpace(l)).Select(l => l!.Trim())];

    private static IEnumerable<LetterFact> Facts(IssuedInvoice invoice, LetterReader reader)
    {
        var content = invoice.Content;
        yield return new(reader.Say("Date"), reader.Day(invoice.Date));
        if (content.Delivery?.Date is { } supplied)
            yield return new(reader.Say("Supplied"), reader.Day(supplied));
        if (content.DueDate is { } due && Asks(invoice))
            yield return new(reader.Say("Pay by"), reader.Day(due));
        if (content.OrderCode is { } order)
            yield return new(reader.Say("Order"), order);
        if (content.BuyersOrder is { } buyers)
            yield return new(reader.Say("Your order"), buyers);
        if (content.BuyerReference is { } reference)
            yield return new(reader.Say("Your reference"), reference);
        if (content.Buyer?.Id is { } customer)
            yield return new(reader.Say("Customer"), customer);
        if (content.Buyer?.VatId is { } vatId)
            yield return new(reader.Say("Your {0} no.", reader.Say(content.Settings.Label)), vatId);
        if (content.Buyer?.RegisterId is { } register)
            yield return new(reader.Say("Your tax no."), register);
        foreach (var earlier in content.Preceding)
            yield return new(
                reader.Say(content.Kind == DocumentKind.CreditNote ? "For invoice" : "Follows"),
                reader.Say("{0} of {1}", earlier.Number, reader.Day(earlier.Date))
            );
    }

    private static string Opening(InvoiceDraft content, LetterReader reader) =>
        content.Kind switch
        {
            DocumentKind.CreditNote => content.Note is { Length: > 0 } why
                ? reader.Say("We take back the following: {0}", ".!?…".Contains(why[^1], StringComparison.Ordinal) ? why : why + ".")
                : reader.Say("We take back the following."),
            DocumentKind.DepositInvoice => reader.Say("For the order named above we ask for this deposit."),
            _ => "",
        };

    private static LetterLine Line(InvoiceLine line, bool gross, LetterReader reader)
    {
        var price = gross ? line.Shown?.UnitPrice : line.Price / line.PriceQuantity;
        var shown =
            line.PriceQuantity != 1m && !gross ? $"{reader.Price(line.Price)} / {reader.Quantity(line.PriceQuantity)}"
            : price is { } one ? reader.Price(one)
            : "";
        var amount = Amount(line, gross);
        return new LetterLine(line.Id, line.Name, Quantity(line, reader), shown, reader.Amount(amount))
        {
            Note = Note(line, gross, reader),
            Carry = amount,
        };
    }

    private static string Quantity(InvoiceLine line, LetterReader reader) =>
        line.Unit is UnitCodes.Piece or UnitCodes.One ? reader.Quantity(line.Quantity) : $"{reader.Quantity(line.Quantity)} {line.Unit}";

    private static string Note(InvoiceLine line, bool gross, LetterReader reader)
    {
        List<string> parts = [.. line.Properties.Select(p => $"{p.Name}: {p.Value}")];
        if (line.ListPrice is { } list && !gross)
            parts.Add(reader.Say("List price {0} less {1}", reader.Price(list), reader.Price(line.PriceDiscount ?? 0m)));
        if (gross && line.Shown is { DiscountPercent: > 0m } shown)
            parts.Add(reader.Say("Discount {0}", reader.Percent(shown.DiscountPercent)));
        if (!gross)
            parts.AddRange(line.Adjustments.Select(a => $"{a.Reason} {(a.IsCharge ? "+" : "−")}{reader.Amount(a.Amount)}"));
        return string.Join(" · ", Present(line.Description, string.Join(" · ", parts)));
    }

    private static IEnumerable<string> Closing(IssuedInvoice invoice, LetterReader reader)
    {
        var content = invoice.Content;
        if (content.Settings.PricesIncludeTax && invoice.Totals.Groups.Any(g => g.Kind.IsTaxed))
            yield return InvoiceSums.Contained(invoice, reader);
        foreach (var reason in content.Reasons)
            yield return InvoiceWords.WithoutTax(reason, content.Settings.Label, reader);
        if (content.Terms is { } terms)
            yield return terms;
        else if (!Asks(invoice) && content.Kind is not (DocumentKind.CreditNote or DocumentKind.Receipt))
            yield return reader.Say("Nothing is left to pay.");
        foreach (var means in content.PaymentMeans.Where(m => m.NamesAccount && Asks(invoice)))
            yield return InvoiceWords.Transfer(means, means.Reference ?? invoice.Number, reader);
        if (content.Note is { } note && content.Kind != DocumentKind.CreditNote)
            yield return note;
    }
}
