using System.Xml.Linq;
using ShopFloor.Domain.Invoicing;
using static ShopFloor.Documents.EInvoice.UblParts;

namespace ShopFloor.Documents.EInvoice;

/// <summary>Seller, buyer and address of delivery in UBL.</summary>
internal static class UblParty
{
    public static XElement? Write(string role, Party party)
    {
        var isSeller = string.Equals(role, "AccountingSupplierParty", StringComparison.Ordinal);
        return Group(
            role,
            Group(
                "Party",
                Group("PartyIdentification", Text("ID", party.Id)),
                Group("PartyName", Text("Name", party.TradingName)),
                Address("PostalAddress", party.Address),
                TaxNumber(party.VatId, "VAT"),
                isSeller ? TaxNumber(party.TaxNumber, "TAX") : null,
                Group("PartyLegalEntity", Text("RegistrationName", party.Name), Text("CompanyID", party.RegisterId)),
                Group("Contact", Text("Name", party.Contact), Text("Telephone", party.Phone), Text("ElectronicMail", party.Email))
            )
        );
    }

    public static XElement? Delivery(Delivery? delivery) =>
        delivery is null
            ? null
            : Group(
                "Delivery",
                Text("ActualDeliveryDate", delivery.Date is { } day ? Day(day) : null),
                delivery.To is null ? null : Group("DeliveryLocation", Address("Address", delivery.To))
            );

    private static XElement? TaxNumber(string? number, string scheme) =>
        string.IsNullOrWhiteSpace(number)
            ? null
            : Group("PartyTaxScheme", Text("CompanyID", number), Group("TaxScheme", Text("ID", scheme)));

    private static XElement? Address(string name, PostalAddress address) =>
        Group(
            name,
            Text("StreetName", address.Street),
            Text("AdditionalStreetName", address.Extra),
            Text("CityName", address.City),
            Text("PostalZone", address.PostCode),
            Text("CountrySubentity", address.Region),
            Group("Country", Text("IdentificationCode", address.Country))
        );
}
