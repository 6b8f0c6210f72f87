using System.Resources;
using ShopFloor.Domain.Invoicing;

namespace ShopFloor.Documents.Letters;

/// <summary>Key for the letters' sentences in other languages; the English sentence is the key.</summary>
public sealed class LetterSentences;

/// <summary>Key for the names of countries in other languages, by their two letters; from the Unicode CLDR.</summary>
public sealed class CountryNames;

/// <summary>Who reads a letter: the language that it speaks, and how numbers and days are written.</summary>
/// <param name="Culture">The reader's culture; the invariant one for English.</param>
public sealed record LetterReader(CultureInfo Culture)
{
    private static readonly ResourceManager Shipped = new(typeof(LetterSentences));
    private static readonly ResourceManager Countries = new(typeof(CountryNames));

    /// <summary>English: 1,234.50 and 4 May 2026.</summary>
    public static LetterReader English { get; } = new(CultureInfo.InvariantCulture);

    /// <summary>The languages that letters speak, as two letters; what else is asked for is answered in English.</summary>
    public static IReadOnlyList<string> Languages { get; } = ["en", "de"];

    /// <summary>Two letters of the language that the letter is written in.</summary>
    public string Language => Culture.Name.Length == 0 ? Languages[0] : Culture.TwoLetterISOLanguageName;

    /// <summary>The reader of a language.</summary>
    /// <param name="language">Two letters, or a culture's name that begins with them; may be null or unknown.</param>
    public static LetterReader Of(string? language) =>
        Languages.Skip(1).FirstOrDefault(l => language?.StartsWith(l, StringComparison.OrdinalIgnoreCase) == true) is { } known
            ? new(CultureInfo.GetCultureInfo(known))
            : English;

    /// <summary>A sentence in the reader's language; the owner's own words, which nobody translated, as they are.</summary>
    /// <param name="sentence">The English sentence, with places as <see cref="string.Format(string, object)"/> has them when <paramref name="parts"/> are given.</param>
    /// <param name="parts">What is filled in, written for the reader already.</param>
    public string Say(string sentence, params string[] parts)
    {
        var said = Shipped.GetResourceSet(Culture, createIfNotExists: true, tryParents: false)?.GetString(sentence) ?? sentence;
        return parts.Length == 0 ? said : string.Format(CultureInfo.InvariantCulture, said, parts);
    }

    /// <summary>A country in the reader's language.</summary>
    /// <param name="code">As invoices have it; what is no such code is handed back as it is.</param>
    public string Country(string code) =>
        Countries.GetResourceSet(Culture, createIfNotExists: true, tryParents: false)?.GetString(code) ?? InEnglish(code);

    private static string InEnglish(string code) =>
        code switch
        {
            "XI" => "Northern Ireland",
            "1A" => "Kosovo",
            "EH" => "Western Sahara",
            _ when Codes.IsCountry(code) => new RegionInfo(code).EnglishName,
            _ => code,
        };

    /// <summary>An amount with two decimals.</summary>
    public string Amount(decimal amount) => amount.ToString("N2", Culture).Replace('-', '−');

    /// <summary>A price with two to six decimals.</summary>
    public string Price(decimal price) => price.ToString("#,##0.00####", Culture).Replace('-', '−');

    /// <summary>A quantity with up to three decimals.</summary>
    public string Quantity(decimal quantity) => quantity.ToString("#,##0.###", Culture).Replace('-', '−');

    /// <summary>A percent with up to four decimals.</summary>
    public string Percent(decimal percent) => percent.ToString("0.####", Culture) + " %";

    /// <summary>A day in words.</summary>
    public string Day(DateOnly day) => day.ToString(Say("d MMMM yyyy"), Culture);
}
