using ShopFloor.Documents.Letters;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Workshop;

/// <summary>Puts the owner's words on a letter.</summary>
/// <param name="settings">As they hold.</param>
/// <param name="name">The reader's name.</param>
/// <param name="about">What the letter is about: the place and what is filled into it.</param>
internal sealed class LetterWords(CurrentSettings settings, string name, (string Place, string Value) about)
{
    private readonly Dictionary<string, string> places = new(StringComparer.Ordinal)
    {
        [TextPlaces.Name] = name,
        [TextPlaces.Workshop] = settings.Profile.Name,
        [about.Place] = about.Value,
    };

    /// <summary>With these words in the place of the opening.</summary>
    public Letter Open(Letter letter, Func<LetterTexts, string> which) => letter with { Opening = Fill(which, letter.Reader) };

    /// <summary>With these words as its last paragraph, where there are any.</summary>
    public Letter Close(Letter letter, Func<LetterTexts, string> which) =>
        Fill(which, letter.Reader) is { Length: > 0 } words ? letter with { Closing = [.. letter.Closing, words] } : letter;

    /// <summary>What is shipped is said in the reader's language; what the owner wrote stands as it is.</summary>
    private string Fill(Func<LetterTexts, string> which, LetterReader reader) =>
        TextPlaces.Fill(reader.Say(which(settings.LetterTexts)), places);
}
