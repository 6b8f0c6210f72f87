using System.Xml.Linq;
using ShopFloor.Domain.Invoicing;
using static ShopFloor.Documents.EInvoice.UblParts;

namespace ShopFloor.Documents.EInvoice;

/// <summary>One line in UBL.</summary>
internal static class UblLine
{
    public static XElement? Write(InvoiceLine line, string currency, bool isNote) =>
        Group(
            isNote ? "CreditNoteLine" : "InvoiceLine",
            [
                Text("ID", line.Id),
                Text(isNote ? "CreditedQuantity" : "InvoicedQuantity", Number(line.Quantity), new XAttribute("unitCode", line.Unit)),
                Amount("LineExtensionAmount", line.Net(), currency),
                .. line.Adjustments.Select(a => UblAmounts.Change(a, currency, category: null)),
                Item(line),
                Price(line, currency),
            ]
        );

    private static XElement? Item(InvoiceLine line) =>
        Group(
            "Item",
            [
                Text("Description", line.Description),
                Text("Name", line.Name),
                UblAmounts.Category("ClassifiedTaxCategory", line.Tax, reason: null),
                .. line.Properties.Select(p => Group("AdditionalItemProperty", Text("Name", p.Name), Text("Value", p.Value))),
            ]
        );

    private static XElement? Price(InvoiceLine line, string currency) =>
        Group(
            "Price",
            Text("PriceAmount", Number(line.Price), new XAttribute("currencyID", currency)),
            line.PriceQuantity == 1m ? null : Text("BaseQuantity", Number(line.PriceQuantity), new XAttribute("unitCode", line.Unit)),
            line.ListPrice is not { } list
                ? null
                : Group(
                    "AllowanceCharge",
                    Text("ChargeIndicator", "false"),
                    Text("Amount", Number(line.PriceDiscount ?? 0m), new XAttribute("currencyID", currency)),
                    Text("BaseAmount", Number(list), new XAttribute("currencyID", currency))
                )
        );
}
