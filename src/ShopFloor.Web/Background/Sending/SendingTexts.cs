using System.Resources;
using ShopFloor.Domain.Workshop;

namespace ShopFloor.Web.Background.Sending;

/// <summary>Key for the texts of mails in other languages; the English sentence is the key.</summary>
public sealed class SendingTexts;

/// <summary>The languages that customers are written to in.</summary>
public static class MailLanguages
{
    /// <summary>The language that the other ones fall back to.</summary>
    public const string First = "en";

    private static readonly ResourceManager Shipped = new(typeof(SendingTexts));

    /// <summary>Two-letter codes.</summary>
    public static IReadOnlyList<string> All { get; } = [First, "de"];

    /// <summary>What the owner wrote in that language, else what is shipped in it, else the first language.</summary>
    /// <param name="mail">The owner's settings.</param>
    /// <param name="language">Two-letter code, or a culture's name that begins with it.</param>
    public static MailTexts Of(MailSettings mail, string language)
    {
        var code = All.FirstOrDefault(l => language.StartsWith(l, StringComparison.OrdinalIgnoreCase)) ?? First;
        return code == First ? mail.First : mail.InLanguage.GetValueOrDefault(code) ?? ShippedIn(code);
    }

    /// <summary>The mail that carries an offer; the number of the offer takes the place of the order's.</summary>
    /// <param name="language">Two-letter code, or a culture's name that begins with it.</param>
    public static MailText Offer(string language)
    {
        var code = All.FirstOrDefault(l => language.StartsWith(l, StringComparison.OrdinalIgnoreCase)) ?? First;
        return code == First ? OfferInEnglish : In(OfferInEnglish, CultureInfo.GetCultureInfo(code));
    }

    private static MailText OfferInEnglish { get; } =
        new(
            "Our offer {order}",
            "Hello {name},\n\nthank you for asking. Our offer {order} is attached: what we would do, what it costs, and until when that holds.\n\nKind regards\n{workshop}"
        );

    private static MailText In(MailText text, CultureInfo culture) => new(Words(text.Subject, culture), Words(text.Text, culture));

    private static MailTexts ShippedIn(string code)
    {
        var culture = CultureInfo.GetCultureInfo(code);
        var english = new MailSettings().First;
        return new MailTexts(
            In(english.Ready, culture),
            In(english.PickUp, culture),
            In(english.Overdue, culture),
            In(english.Question, culture)
        );
    }

    // Keys are written on one line.
    private static string Words(string english, CultureInfo culture) =>
        Shipped.GetString(english.ReplaceLineEndings(" "), culture)
        ?? throw new MissingManifestResourceException($"No text in {culture.Name} for: {english}");
}
