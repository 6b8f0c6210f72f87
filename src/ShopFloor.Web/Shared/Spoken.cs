using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using Microsoft.Extensions.Localization;
using ShopFloor.Domain;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Counter;

namespace ShopFloor.Web.Shared;

/// <summary>
/// What was decided far from the screen, said in the language of whoever looks: refusals everywhere, and most of Bench and Wall. It is shared
/// by screens of several languages, so it arrives as a finished English sentence: it is looked up whole, then by the keys with places (the
/// longest first, what stands in the places is turned in its turn), then part by part: at the first joint, so that what follows it is looked up
/// whole. What nobody knows stays as it is.
/// </summary>
public sealed class Spoken(IStringLocalizer<BenchTexts> texts, IStringLocalizer<CounterTexts> counter)
{
    // A key with fewer letters of its own would fit nearly everything: it is only about figures and codes.
    private const int LeastLetters = 4;
    private const string Anything = ".+?";
    private const string OneFigure = @"[A-Z0-9][A-Z0-9.,:/\-]*";

    // By the clock, not by work done: on a busy machine a match may stand still for a while.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);
    private static readonly ConcurrentDictionary<string, IReadOnlyList<(Regex Form, string Text)>> Forms = new(StringComparer.Ordinal);
    private static readonly string[] Joints = [" · ", "; ", ": ", ", "];

    // "VDDFWF: ", "3 × K3F7QX, L-3: ", "9 pieces: ".
    private static readonly Regex Pieces = new(
        @"^(?:(?:\d+ × )?[A-Z0-9][A-Z0-9\-]*(?:, (?:\d+ × )?[A-Z0-9][A-Z0-9\-]*)*|\d+ pieces): ",
        RegexOptions.CultureInvariant,
        Patience
    );

    // Only before a unit: codes and lots keep their points.
    private static readonly Regex Decimal = new(
        @"(?<=\d)\.(?=\d+ (?:×|°C|%|(?:mm|ml|g|m³/h|kJ|K|l|min|s|h)\b))",
        RegexOptions.CultureInvariant,
        Patience
    );

    /// <summary>The sentence in the language of the screen.</summary>
    public string this[string text] =>
        IsEnglish ? text : Decimal.Replace(Say(text), CultureInfo.CurrentUICulture.NumberFormat.NumberDecimalSeparator);

    /// <summary>The sentence with its places filled; words in the places are turned too.</summary>
    public string this[string key, params object?[] places] =>
        string.Format(
            CultureInfo.CurrentCulture,
            IsEnglish ? key : Say(key),
            IsEnglish ? places : [.. places.Select(p => p is string text ? Say(text) : p)]
        );

    /// <summary>Refusals in the language of the screen.</summary>
    public IReadOnlyList<Refusal> Of(IReadOnlyList<Refusal> refusals) => IsEnglish ? refusals : [.. refusals.Select(Of)];

    /// <summary>A refusal in the language of the screen.</summary>
    public Refusal Of(Refusal refusal) => refusal with { Text = this[refusal.Text] };

    // No language at all is English too: the keys are.
    private static bool IsEnglish => CultureInfo.CurrentUICulture.TwoLetterISOLanguageName is "en" or "iv";

    private string Say(string text)
    {
        if (text.Length == 0)
            return text;
        return Whole(text) ?? Named(text) ?? ByForm(text) ?? ByParts(text);
    }

    private string? Whole(string text)
    {
        var found = texts[text];
        if (found.ResourceNotFound)
            found = counter[text];
        return found.ResourceNotFound ? null : found.Value;
    }

    // What is said of a piece or of several is known by itself; with their codes before it a shorter key might seem to fit.
    private string? Named(string text) =>
        Pieces.Match(text) is { Success: true } head && text[head.Length..] is var rest && (Whole(rest) ?? ByForm(rest)) is { } said
            ? $"{Say(text[..(head.Length - 2)])}: {said}"
            : null;

    private string? ByForm(string text)
    {
        foreach (var (form, turned) in Forms.GetOrAdd(CultureInfo.CurrentUICulture.Name, _ => Read()))
            if (form.Match(text) is { Success: true } match)
                return string.Format(
                    CultureInfo.CurrentCulture,
                    turned,
                    [.. Enumerable.Range(0, 10).Select(i => (object)Say(match.Groups[$"p{i}"].Value))]
                );
        return null;
    }

    private string ByParts(string text)
    {
        // A name may have a comma of its own: "Glass, ordinary, 180 × 130 × 3 mm".
        for (
            var at = text.LastIndexOf(", ", StringComparison.Ordinal);
            at > 0;
            at = text.LastIndexOf(", ", at - 1, StringComparison.Ordinal)
        )
            if (Whole(text[..at]) is { } name)
                return $"{name}, {Say(text[(at + 2)..])}";
        foreach (var joint in Joints)
            if (text.IndexOf(joint, StringComparison.Ordinal) is var joined and > 0)
                return $"{Say(text[..joined])}{joint}{Say(text[(joined + joint.Length)..])}";
        // "Cure L-31", "Wipe VDDFWF": the code stays, the word before it is turned; "then spray clear": the word stands in the list with a capital.
        if (text.LastIndexOf(' ') is var space and > 0 && IsCode(text.AsSpan(space + 1)))
            return $"{Say(text[..space])}{text[space..]}";
        var capital = char.ToUpperInvariant(text[0]) + text[1..];
        return capital == text ? text : Whole(capital) ?? text;
    }

    // Codes are of capitals, digits and hyphens; a plan's names may have small letters beside the digits, or are one or two letters.
    private static bool IsCode(ReadOnlySpan<char> word) =>
        word.ContainsAnyInRange('0', '9') || (word.Length is 1 or 2 or ShortCode.TotalLength && !word.ContainsAnyExceptInRange('A', 'Z'));

    private IReadOnlyList<(Regex, string)> Read() =>
        [
            .. texts
                .GetAllStrings(includeParentCultures: true)
                .Concat(counter.GetAllStrings(includeParentCultures: true))
                .Where(t => t.Name.Contains("{0}", StringComparison.Ordinal))
                .OrderByDescending(t => Letters(t.Name))
                .ThenByDescending(t => t.Name.Length)
                .ThenBy(t => t.Name, StringComparer.Ordinal)
                .Select(t => (Form(t.Name), t.Value)),
        ];

    private static int Letters(string key) => key.Count(char.IsLetter);

    private static Regex Form(string key) => Form(key, Letters(key) < LeastLetters ? OneFigure : Anything);

    private static Regex Form(string key, string place) =>
        new(
            $"^{Regex.Replace(Regex.Escape(key), @"\\\{(?<n>[0-9])}", $"(?<p${{n}}>{place})", RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1))}$",
            RegexOptions.CultureInvariant | RegexOptions.Singleline | RegexOptions.ExplicitCapture,
            Patience
        );
}
