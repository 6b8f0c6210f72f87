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

    private static MailTexts ShippedIn(string code)
    {
        var culture = CultureInfo.GetCultureInfo(code);
        MailText In(MailText text) => new(Words(text.Subject, culture), Words(text.Text, culture));
        var english = new MailSettings().First;
        return new MailTexts(In(english.Ready), In(english.PickUp), In(english.Overdue), In(english.Question));
    }

    // Keys are written on one line.
    private static string Words(string english, CultureInfo culture) =>
        Shipped.GetString(english.ReplaceLineEndings(" "), culture)
        ?? throw new MissingManifestResourceException($"No text in {culture.Name} for: {english}");
}
