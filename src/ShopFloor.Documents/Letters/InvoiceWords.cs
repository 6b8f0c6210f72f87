using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>Sentences that stand on papers about money by themselves.</summary>
internal static class InvoiceWords
{
    /// <summary>
    /// Why no tax is charged. The mention that Directive 2006/112/EC, Art. 226 no. 11 and 11a, asks for always stands there, in the words of German law
    /// too; the owner's own words follow where they say more.
    /// </summary>
    public static string WithoutTax(ExemptionReason reason, string plain, LetterReader reader)
    {
        var label = reader.Say(plain);
        // The words for a workshop that charges none are shipped, with the tax's name in them; others stand as the owner wrote them.
        var text = reason.Text?.Trim() ?? "";
        var own = text == $"Exempt from {plain}." ? reader.Say("Exempt from {0}", label) + "." : reader.Say(text);
        var (words, marks) = Mention(reason.Category);
        words = reader.Say(words, label);
        if (marks.Length == 0)
            return own.Length > 0 ? own : reader.Say("No {0} is charged ({1}).", label, reason.Code ?? "");
        if (Array.Exists(marks, m => own.Contains(m, StringComparison.OrdinalIgnoreCase)))
            return own;
        if (own.Length > 0)
            return $"{words}: {own}";
        return reason.Category == TaxCategory.Exempt ? $"{words} ({reason.Code})." : $"{words}.";
    }

    /// <summary>Where to transfer to; an IBAN stands in groups of four, as ISO 13616 has it on paper.</summary>
    public static string Transfer(PaymentMeans means, string reference, LetterReader reader)
    {
        var account = means.Account is { } a && IsIban(a) ? string.Join(' ', a.Chunk(4).Select(c => new string(c))) : means.Account;
        var parts = new[] { means.AccountName, account, means.InWords, means.Bank }.Where(p => !string.IsNullOrWhiteSpace(p));
        return reader.Say("Please transfer to {0}, reference {1}.", string.Join(", ", parts), reference);
    }

    private static (string Words, string[] Marks) Mention(TaxCategory category) =>
        category switch
        {
            TaxCategory.ReverseCharge => (
                "Reverse charge, the buyer owes the {0} (Steuerschuldnerschaft des Leistungsempfängers)",
                ["reverse charge", "Steuerschuldnerschaft des Leistungsempfängers"]
            ),
            TaxCategory.IntraUnion => (
                "Intra-Community supply, exempt by Art. 138 of Directive 2006/112/EC (steuerfreie innergemeinschaftliche Lieferung)",
                ["intra-community supply", "innergemeinschaftliche Lieferung"]
            ),
            TaxCategory.Exempt => ("Exempt from {0}", ["exempt", "befreit", "steuerfrei"]),
            _ => ("", []),
        };

    /// <summary>Country, two digits and 11 to 30 letters or digits (ISO 13616).</summary>
    private static bool IsIban(string account) =>
        account.Length is >= 15 and <= 34
        && account[..2].All(char.IsAsciiLetterUpper)
        && account[2..4].All(char.IsAsciiDigit)
        && account[4..].All(char.IsAsciiLetterOrDigit);
}
