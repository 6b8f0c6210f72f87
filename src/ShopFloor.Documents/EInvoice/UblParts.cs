using System.Xml;
using System.Xml.Linq;

namespace ShopFloor.Documents.EInvoice;

/// <summary>The few kinds of elements that UBL documents are made of. What has nothing to say is left out, as UBL forbids empty elements.</summary>
internal static class UblParts
{
    public static readonly XNamespace Cac = "urn:oasis:names:specification:ubl:schema:xsd:CommonAggregateComponents-2";
    public static readonly XNamespace Cbc = "urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2";

    /// <summary>A leaf, or null when there is no text.</summary>
    public static XElement? Text(string name, string? text, XAttribute? attribute = null) =>
        string.IsNullOrWhiteSpace(text) ? null : new XElement(Cbc + name, attribute, Legal(text));

    /// <summary>A group, or null when nothing is in it.</summary>
    public static XElement? Group(string name, params XElement?[] members) =>
        Array.TrueForAll(members, m => m is null) ? null : new XElement(Cac + name, members);

    /// <summary>An amount with its currency.</summary>
    public static XElement? Amount(string name, decimal? amount, string currency) =>
        amount is { } value
            ? Text(name, value.ToString("0.00########", CultureInfo.InvariantCulture), new XAttribute("currencyID", currency))
            : null;

    /// <summary>A number without trailing zeros and without exponent.</summary>
    public static string Number(decimal number) => number.ToString("0.############################", CultureInfo.InvariantCulture);

    /// <summary>A date as ISO 8601 writes it.</summary>
    public static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Text that XML can carry: characters that XML 1.0 forbids become spaces.</summary>
    private static string Legal(string text)
    {
        var trimmed = text.Trim();
        var legal = new char[trimmed.Length];
        for (var i = 0; i < trimmed.Length; i++)
        {
            var paired = i + 1 < trimmed.Length && char.IsSurrogatePair(trimmed[i], trimmed[i + 1]);
            if (paired)
                legal[i + 1] = trimmed[i + 1];
            if (paired || legal[i] == '\0')
                legal[i] = paired || XmlConvert.IsXmlChar(trimmed[i]) ? trimmed[i] : ' ';
        }
        return new string(legal);
    }
}
