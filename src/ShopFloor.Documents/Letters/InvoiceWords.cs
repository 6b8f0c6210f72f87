using System.Text.RegularExpressions;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>Sentences that stand on papers about money by themselves.</summary>
internal static partial class InvoiceWords
{
    /// <summary>
    /// Why no tax is charged. The mention that Directive 2006/112/EC, Art. 226 no. 11 and 11a, asks for always stands there, in the words of German law
    /// too; the owner's own words follow where they say more.
    /// </summary>
    public static string WithoutTax(ExemptionReason reason, string label)
    {
        var own = reason.Text?.Trim() ?? "";
        var (words, mark) = Mention(reason.Category, label);
        if (mark.Length == 0)
            return own.Length > 0 ? own : $"No {label} is charged ({reason.Code}).";
        if (Regex.IsMatch(own, mark, RegexOptions.IgnoreCase | RegexOptions.CultureInvariant))
            return own;
        if (own.Length > 0)
            return $"{words}: {own}";
        return reason.Category == TaxCategory.Exempt ? $"{words} ({reason.Code})." : $"{words}.";
    }

    /// <summary>Where to transfer to; an IBAN stands in groups of four, as ISO 13616 has it on paper.</summary>
    public static string Transfer(PaymentMeans means, string reference)
    {
        var account = means.Account is { } a && Iban().IsMatch(a) ? string.Join(' ', a.Chunk(4).Select(c => new string(c))) : means.Account;
        var parts = new[] { means.AccountName, account, means.Bank }.Where(p => !string.IsNullOrWhiteSpace(p));
        return $"Please transfer to {string.Join(", ", parts)}, reference {reference}.";
    }

    private static (string Words, string Mark) Mention(TaxCategory category, string label) =>
        category switch
        {
            TaxCategory.ReverseCharge => (
                $"Reverse charge, the buyer owes the {label} (Steuerschuldnerschaft des Leistungsempfängers)",
                "reverse charge|Steuerschuldnerschaft des Leistungsempfängers"
            ),
            TaxCategory.IntraUnion => (
                "Intra-Community supply, exempt by Art. 138 of Directive 2006/112/EC (steuerfreie innergemeinschaftliche Lieferung)",
                "intra-community supply|innergemeinschaftliche Lieferung"
            ),
            TaxCategory.Exempt => ($"Exempt from {label}", "exempt|befreit|steuerfrei"),
            _ => ("", ""),
        };

    [GeneratedRegex("^[A-Z]{2}[0-9]{2}[A-Z0-9]{11,30}$", RegexOptions.CultureInvariant)]
    private static partial Regex Iban();
}
