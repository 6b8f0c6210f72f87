using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>The readable paper of an issued document: invoice, part invoice, deposit invoice, credit note, receipt.</summary>
public static class InvoiceLetter
{
    /// <summary>Spells the document out.</summary>
    /// <param name="invoice">The document as issued.</param>
    /// <param name="numbers">How the reader writes numbers and days.</param>
    public static Letter Of(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var content = invoice.Content;
        var gross = content.Settings.PricesIncludeTax;
        return new Letter(
            $"{Name(content.Kind)} {invoice.Number}",
            To(content.Buyer, content.Seller.Address.Country),
            [.. Facts(invoice, numbers)],
            [.. content.Lines.Select(l => Line(l, gross, numbers))]
        )
        {
            Opening = Opening(content),
            PriceHeading = content.Lines.All(l => l.Quantity is 1m or -1m) ? "" : "Price",
            AmountHeading = $"Amount {content.Settings.Currency}",
            Totals = InvoiceSums.Of(invoice, numbers),
            Closing = [.. Closing(invoice, numbers)],
            Numbers = numbers,
        };
    }

    /// <summary>The paper as it would be issued: marked on every page, and without a number, which only the issued one gets.</summary>
    /// <param name="draft">What would be issued.</param>
    /// <param name="day">The day it would be issued on.</param>
    /// <param name="numbers">How the reader writes numbers and days.</param>
    public static Letter OfDraft(InvoiceDraft draft, DateOnly day, LetterNumbers numbers) =>
        Of(new IssuedInvoice("the number of the invoice", day, draft, draft.Totals()), numbers) with
        {
            Title = $"{Name(draft.Kind)}, not issued",
            Mark = "Draft to look at: not an invoice, no number was given.",
        };

    /// <summary>Lines of an address as the post wants them.</summary>
    /// <param name="party">Whose, or null for nobody.</param>
    /// <param name="home">The sender's country, which is left out.</param>
    public static IReadOnlyList<string> To(Party? party, string home) =>
        party is null
            ? []
            : Present(
                party.TradingName is null ? party.Name : $"{party.Name} ({party.TradingName})",
                party.Contact,
                party.Address.Street,
                party.Address.Extra,
                $"{party.Address.PostCode} {party.Address.City}",
                party.Address.Region,
                string.Equals(party.Address.Country, home, StringComparison.Ordinal) ? null : Country(party.Address.Country)
            );

    /// <summary>A country in words.</summary>
    /// <param name="code">As invoices have it; what is no such code is handed back as it is.</param>
    public static string Country(string code) =>
        code switch
        {
            "XI" => "Northern Ireland",
            "1A" => "Kosovo",
            _ when Codes.IsCountry(code) => new RegionInfo(code).EnglishName,
            _ => code,
        };

    /// <summary>What a line shows for its amount: with tax where prices include it.</summary>
    internal static decimal Amount(InvoiceLine line, bool gross) =>
        !gross ? line.Net() : line.Shown?.Amount ?? Domain.Quantities.Money.Round(line.Net() * (1m + line.Tax.Percent / 100m));

    private static bool Asks(IssuedInvoice invoice) => invoice.Content.Kind != DocumentKind.CreditNote && invoice.Totals.Due > 0m;

    private static string Name(DocumentKind kind) =>
        kind switch
        {
            DocumentKind.PartInvoice => "Part invoice",
            DocumentKind.DepositInvoice => "Deposit invoice",
            DocumentKind.CreditNote => "Credit note",
            DocumentKind.Receipt => "Receipt",
            _ => "Invoice",
        };

    private static List<string> Present(params string?[] lines) =>
        [.. lines.Where(l => !string.IsNullOrWhiteSpace(l)).Select(l => l!.Trim())];

    private static IEnumerable<LetterFact> Facts(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var content = invoice.Content;
        yield return new("Date", numbers.Day(invoice.Date));
        if (content.Delivery?.Date is { } supplied)
            yield return new("Supplied", numbers.Day(supplied));
        if (content.DueDate is { } due && Asks(invoice))
            yield return new("Pay by", numbers.Day(due));
        if (content.OrderCode is { } order)
            yield return new("Order", order);
        if (content.BuyersOrder is { } buyers)
            yield return new("Your order", buyers);
        if (content.BuyerReference is { } reference)
            yield return new("Your reference", reference);
        if (content.Buyer?.Id is { } customer)
            yield return new("Customer", customer);
        if (content.Buyer?.VatId is { } vatId)
            yield return new($"Your {content.Settings.Label} no.", vatId);
        foreach (var earlier in content.Preceding)
            yield return new(
                content.Kind == DocumentKind.CreditNote ? "For invoice" : "Follows",
                $"{earlier.Number} of {numbers.Day(earlier.Date)}"
            );
    }

    private static string Opening(InvoiceDraft content) =>
        content.Kind switch
        {
            DocumentKind.CreditNote => content.Note is { Length: > 0 } why
                ? $"We take back the following: {why}{(".!?…".Contains(why[^1], StringComparison.Ordinal) ? "" : ".")}"
                : "We take back the following.",
            DocumentKind.DepositInvoice => "For the order named above we ask for this deposit.",
            _ => "",
        };

    private static LetterLine Line(InvoiceLine line, bool gross, LetterNumbers numbers)
    {
        var price = gross ? line.Shown?.UnitPrice : line.Price / line.PriceQuantity;
        var shown =
            line.PriceQuantity != 1m && !gross ? $"{numbers.Price(line.Price)} / {numbers.Quantity(line.PriceQuantity)}"
            : price is { } one ? numbers.Price(one)
            : "";
        var amount = Amount(line, gross);
        return new LetterLine(line.Id, line.Name, Quantity(line, numbers), shown, numbers.Amount(amount))
        {
            Note = Note(line, gross, numbers),
            Carry = amount,
        };
    }

    private static string Quantity(InvoiceLine line, LetterNumbers numbers) =>
        line.Unit is UnitCodes.Piece or UnitCodes.One ? numbers.Quantity(line.Quantity) : $"{numbers.Quantity(line.Quantity)} {line.Unit}";

    private static string Note(InvoiceLine line, bool gross, LetterNumbers numbers)
    {
        List<string> parts = [.. line.Properties.Select(p => $"{p.Name}: {p.Value}")];
        if (line.ListPrice is { } list && !gross)
            parts.Add($"List price {numbers.Price(list)} less {numbers.Price(line.PriceDiscount ?? 0m)}");
        if (gross && line.Shown is { DiscountPercent: > 0m } shown)
            parts.Add($"Discount {numbers.Percent(shown.DiscountPercent)}");
        if (!gross)
            parts.AddRange(line.Adjustments.Select(a => $"{a.Reason} {(a.IsCharge ? "+" : "−")}{numbers.Amount(a.Amount)}"));
        return string.Join(" · ", Present(line.Description, string.Join(" · ", parts)));
    }

    private static IEnumerable<string> Closing(IssuedInvoice invoice, LetterNumbers numbers)
    {
        var content = invoice.Content;
        if (content.Settings.PricesIncludeTax && invoice.Totals.Groups.Any(g => g.Kind.IsTaxed))
            yield return InvoiceSums.Contained(invoice, numbers);
        foreach (var reason in content.Reasons)
            yield return InvoiceWords.WithoutTax(reason, content.Settings.Label);
        if (content.Terms is { } terms)
            yield return terms;
        if (!Asks(invoice) && content.Kind is not (DocumentKind.CreditNote or DocumentKind.Receipt))
            yield return "Nothing is left to pay.";
        foreach (var means in content.PaymentMeans.Where(m => m.Account is not null && Asks(invoice)))
            yield return InvoiceWords.Transfer(means, means.Reference ?? invoice.Number);
        if (content.Note is { } note && content.Kind != DocumentKind.CreditNote)
            yield return note;
    }
}
