using System.Text;
using System.Xml;
using System.Xml.Linq;
using ShopFloor.Domain;
using ShopFloor.Domain.Invoicing;
using static ShopFloor.Documents.EInvoice.UblParts;

namespace ShopFloor.Documents.EInvoice;

/// <summary>
/// Writes an issued document as UBL 2.1 (OASIS standard of 4 November 2013) in the syntax that EN 16931 prescribes: an Invoice, or a CreditNote for
/// type 381. Nothing is computed here: the amounts are those of the issued document.
/// </summary>
public static class UblInvoice
{
    private const string Specification = "urn:cen.eu:en16931:2017";

    /// <summary>The document as UTF-8 bytes without a byte order mark.</summary>
    /// <returns>The bytes, or the refusal that this document is no EN 16931 invoice.</returns>
    public static Result<byte[]> Write(IssuedInvoice invoice)
    {
        if (!invoice.AllowsEInvoice)
            return new Refusal(
                "no-e-invoice",
                "Only an invoice with value added tax and a named buyer can be given as an e-invoice; receipts and other taxes are given on paper."
            );
        var stream = new MemoryStream();
        var settings = new XmlWriterSettings { Encoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), Indent = true };
        using (var writer = XmlWriter.Create(stream, settings))
            Document(invoice).Save(writer);
        return stream.ToArray();
    }

    /// <summary>The document as a tree.</summary>
    internal static XDocument Document(IssuedInvoice invoice)
    {
        var isNote = invoice.Content.Kind == DocumentKind.CreditNote;
        XNamespace root = $"urn:oasis:names:specification:ubl:schema:xsd:{(isNote ? "CreditNote" : "Invoice")}-2";
        return new XDocument(
            new XElement(
                root + (isNote ? "CreditNote" : "Invoice"),
                new XAttribute(XNamespace.Xmlns + "cac", Cac),
                new XAttribute(XNamespace.Xmlns + "cbc", Cbc),
                Head(invoice, isNote),
                References(invoice),
                UblParty.Write("AccountingSupplierParty", invoice.Content.Seller),
                UblParty.Write("AccountingCustomerParty", invoice.Content.Buyer!),
                UblParty.Delivery(invoice.Content.Delivery),
                Payment(invoice, isNote),
                invoice.Content.Adjustments.Select(a =>
                    UblAmounts.Change(a.Adjustment, Currency(invoice), UblAmounts.Category("TaxCategory", a.Tax, null))
                ),
                UblAmounts.Tax(invoice),
                UblAmounts.Total(invoice),
                invoice.Content.Lines.Select(l => UblLine.Write(l, Currency(invoice), isNote))
            )
        );
    }

    private static IEnumerable<XElement?> Head(IssuedInvoice invoice, bool isNote)
    {
        var content = invoice.Content;
        yield return Text("CustomizationID", Specification);
        yield return Text("ID", invoice.Number);
        yield return Text("IssueDate", Day(invoice.Date));
        if (!isNote)
            yield return Text("DueDate", content.DueDate is { } due ? Day(due) : null);
        yield return Text(isNote ? "CreditNoteTypeCode" : "InvoiceTypeCode", TypeCode(content.Kind));
        yield return Text("Note", Note(content.Note));
        yield return Text("DocumentCurrencyCode", content.Settings.Currency);
        yield return Text("BuyerReference", content.BuyerReference);
    }

    /// <summary>UNTDID 1001 (BR-CL-01).</summary>
    private static string TypeCode(DocumentKind kind) =>
        kind switch
        {
            DocumentKind.Invoice => "380",
            DocumentKind.PartInvoice => "326",
            DocumentKind.DepositInvoice => "386",
            DocumentKind.CreditNote => "381",
            _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, "A receipt is no e-invoice."),
        };

    /// <summary>A # begins a subject code in EN 16931's notes (BR-CL-08): one in running text is written out.</summary>
    private static string? Note(string? note) => note?.Replace("#", "no. ", StringComparison.Ordinal);

    /// <summary>The order reference has to have the buyer's number; where there is only ours, it takes its place so that the reader can find the job.</summary>
    private static IEnumerable<XElement?> References(IssuedInvoice invoice)
    {
        var content = invoice.Content;
        var order = content.BuyersOrder ?? content.OrderCode;
        if (!string.IsNullOrWhiteSpace(order))
            yield return Group(
                "OrderReference",
                Text("ID", order),
                content.BuyersOrder is null ? null : Text("SalesOrderID", content.OrderCode)
            );
        foreach (var earlier in content.Preceding)
            yield return Group(
                "BillingReference",
                Group("InvoiceDocumentReference", Text("ID", earlier.Number), Text("IssueDate", Day(earlier.Date)))
            );
    }

    private static IEnumerable<XElement?> Payment(IssuedInvoice invoice, bool isNote)
    {
        foreach (var means in invoice.Content.PaymentMeans.Where(m => m.InWords is null))
            yield return Group(
                "PaymentMeans",
                Text("PaymentMeansCode", means.Code),
                isNote && invoice.Content.DueDate is { } due ? Text("PaymentDueDate", Day(due)) : null,
                Text("PaymentID", means.Reference ?? invoice.Number),
                means.Account is null ? null : Account(means)
            );
        yield return Group("PaymentTerms", Text("Note", invoice.Content.Terms));
    }

    private static XElement? Account(PaymentMeans means) =>
        Group(
            "PayeeFinancialAccount",
            Text("ID", means.Account),
            Text("Name", means.AccountName),
            Group("FinancialInstitutionBranch", Text("ID", means.Bank))
        );

    private static string Currency(IssuedInvoice invoice) => invoice.Content.Settings.Currency;
}
