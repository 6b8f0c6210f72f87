using System.Xml.Linq;
using ShopFloor.Domain.Invoicing;
using static ShopFloor.Documents.EInvoice.UblParts;

namespace ShopFloor.Documents.EInvoice;

/// <summary>Allowances, tax groups and totals in UBL.</summary>
internal static class UblAmounts
{
    public static XElement? Change(Adjustment change, string currency, XElement? category) =>
        Group(
            "AllowanceCharge",
            Text("ChargeIndicator", change.IsCharge ? "true" : "false"),
            Text("AllowanceChargeReasonCode", change.ReasonCode),
            Text("AllowanceChargeReason", change.Reason),
            Text("MultiplierFactorNumeric", change.Percent is { } percent ? Number(percent) : null),
            Amount("Amount", change.Amount, currency),
            Amount("BaseAmount", change.Base, currency),
            category
        );

    /// <summary>A category; outside the tax it has no rate (BR-O-05).</summary>
    public static XElement? Category(string name, TaxKind kind, ExemptionReason? reason) =>
        Group(
            name,
            Text("ID", kind.Category.Code()),
            kind.Category == TaxCategory.OutsideScope ? null : Text("Percent", Number(kind.Percent)),
            Text("TaxExemptionReasonCode", reason?.Code),
            Text("TaxExemptionReason", reason?.Text),
            Group("TaxScheme", Text("ID", "VAT"))
        );

    public static XElement? Tax(IssuedInvoice invoice)
    {
        var currency = invoice.Content.Settings.Currency;
        var groups = invoice.Totals.Groups.Select(g =>
            Group(
                "TaxSubtotal",
                Amount("TaxableAmount", g.Taxable, currency),
                Amount("TaxAmount", g.Tax, currency),
                Category("TaxCategory", g.Kind, invoice.Content.Reasons.FirstOrDefault(r => r.Category == g.Kind.Category))
            )
        );
        return Group("TaxTotal", [Amount("TaxAmount", invoice.Totals.Tax, currency), .. groups]);
    }

    /// <summary>Sums that are nothing are left out where the standard lets them.</summary>
    public static XElement? Total(IssuedInvoice invoice)
    {
        var (totals, currency) = (invoice.Totals, invoice.Content.Settings.Currency);
        return Group(
            "LegalMonetaryTotal",
            Amount("LineExtensionAmount", totals.Lines, currency),
            Amount("TaxExclusiveAmount", totals.WithoutTax, currency),
            Amount("TaxInclusiveAmount", totals.WithTax, currency),
            Amount("AllowanceTotalAmount", totals.Allowances, currency),
            Amount("ChargeTotalAmount", totals.Charges, currency),
            Amount("PrepaidAmount", totals.Paid == 0m ? null : totals.Paid, currency),
            Amount("PayableRoundingAmount", totals.Rounding == 0m ? null : totals.Rounding, currency),
            Amount("PayableAmount", totals.Due, currency)
        );
    }
}
