using ShopFloor.Documents.Letters;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Invoices;

/// <summary>What the workshop's own data says on every document.</summary>
internal static class InvoiceTerms
{
    public const string Allocated = "on account";

    public static NumberSeries Series(DocumentKind kind) =>
        kind switch
        {
            DocumentKind.CreditNote => new("credit", "C", PerYear: true, 4),
            DocumentKind.DepositInvoice => new("deposit", "D", PerYear: true, 4),
            DocumentKind.Receipt => new("receipt", "K", PerYear: true, 4),
            _ => new("invoice", "", PerYear: true, 4),
        };

    /// <summary>How a kind of document is called in lists and in the database.</summary>
    public static string Word(DocumentKind kind) => DocumentWords.Of(kind);

    public static TaxSettings Tax(CurrentSettings settings) =>
        new(
            settings.Invoices.Scheme,
            settings.Invoices.TaxLabel,
            settings.Profile.Currency,
            settings.Profile.PricesIncludeTax,
            settings.Invoices.Rounding,
            settings.Invoices.CashStep
        );

    public static Party Seller(WorkshopProfile profile) =>
        new Party(
            profile.Name,
            new PostalAddress(profile.Street, null, profile.City, profile.Postcode, null, profile.Country),
            RegisterId: Entered(profile.RegisterNumber),
            VatId: Entered(profile.VatId),
            TaxNumber: Entered(profile.TaxNumber),
            Email: profile.Email,
            Phone: profile.Phone
        ).Identified();

    /// <summary>The seller of an earlier document, with the numbers of today where that one named none: a receipt needs none, what takes it back does.</summary>
    public static Party Named(Party seller, WorkshopProfile profile, bool outsideTax)
    {
        var now = outsideTax ? Seller(profile).WithoutVatId() : Seller(profile);
        return seller with
        {
            Id = seller.Id ?? now.Id,
            RegisterId = seller.RegisterId ?? now.RegisterId,
            VatId = string.IsNullOrWhiteSpace(seller.VatId) ? now.VatId : seller.VatId,
            TaxNumber = seller.TaxNumber ?? now.TaxNumber,
        };
    }

    private static string? Entered(string text) => text.Trim() is { Length: > 0 } number ? number : null;

    /// <summary>
    /// The buyer as known today; a customer who gave no address is taken to live in the workshop's country. A number without a country's letters is no
    /// VAT number (BR-CO-09): it stands as the number by which the firm is registered (BT-47).
    /// </summary>
    public static Party Buyer(Customer customer, Contact contact, CurrentSettings settings)
    {
        var number = Entered(customer.VatId);
        var isOfTheTax = settings.Invoices.Scheme != TaxScheme.Vat || (number is not null && Codes.HasCountryLetters(number));
        var isFirm = customer.Company.Length > 0;
        var address = customer.Address is { } a
            ? new PostalAddress(a.Street, null, a.City, a.Postcode, null, a.Country)
            : new PostalAddress(null, null, null, null, null, settings.Profile.Country);
        return new Party(
            isFirm ? customer.Company : contact.Name,
            address,
            RegisterId: isOfTheTax ? null : number,
            VatId: isOfTheTax ? number : null,
            Email: contact.Email,
            Phone: contact.Phone,
            Contact: isFirm ? contact.Name : null
        );
    }

    /// <summary>Where to transfer to: the IBAN, or the account in other words, which stands on paper alone.</summary>
    public static IReadOnlyList<PaymentMeans> Means(WorkshopProfile profile)
    {
        if (Entered(profile.Iban) is { } iban)
        {
            var code = profile.Currency == "EUR" ? PaymentMeansCodes.SepaTransfer : PaymentMeansCodes.Transfer;
            return [new(code, iban.Replace(" ", "", StringComparison.Ordinal), profile.Name)];
        }
        return Entered(profile.AccountWords) is { } words
            ? [new(PaymentMeansCodes.Transfer, AccountName: profile.Name, InWords: words)]
            : [];
    }

    /// <summary>The paper that letters are set for.</summary>
    public static LetterPaper Paper(WorkshopProfile profile) =>
        Enum.TryParse<LetterPaper>(profile.LettersOn, out var paper) ? paper : LetterPaper.A4;
}
