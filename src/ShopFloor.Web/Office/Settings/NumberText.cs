using ShopFloor.Domain;

namespace ShopFloor.Web.Office.Settings;

/// <summary>Reads numbers as people write them: comma or point before the decimals, blanks or the other sign between thousands.</summary>
public static class NumberText
{
    /// <summary>The number, or what is wrong with the text.</summary>
    /// <param name="typed">As typed.</param>
    /// <param name="field">The field it was typed into.</param>
    public static Result<decimal> Read(string? typed, string? field = null)
    {
        var text = new string([.. (typed ?? "").Where(c => !char.IsWhiteSpace(c) && c is not ('\'' or '’'))]);
        if (text.Length == 0)
            return new Refusal("number-missing", "Enter a number.", field);
        if (text.Length > 30)
            return new Refusal("number-long", "This is too long for a number.", field);
        text = WithoutGroups(text) ?? "";
        return decimal.TryParse(
            text,
            NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture,
            out var number
        )
            ? number
            : new Refusal(
                "number-unread",
                $"“{(typed!.Length > 20 ? typed[..20] + "…" : typed)}” is no number. Write it like 12.5 or 12,5.",
                field
            );
    }

    /// <summary>With a point before its decimals and nothing between its thousands; null when what stands between marks is no group of three digits.</summary>
    private static string? WithoutGroups(string text)
    {
        var last = text.LastIndexOfAny([',', '.']);
        if (last < 0)
            return text;
        var several = text.IndexOf(text[last], StringComparison.Ordinal) < last;
        var (whole, decimals) = several ? (text, "") : (text[..last], text[(last + 1)..]);
        var groups = whole
            .TrimStart('+', '-')
            .Split(
                several ? text[last]
                : text[last] == ',' ? '.'
                : ','
            );
        if (groups.Length > 1 && (groups[0].Length is < 1 or > 3 || groups.Skip(1).Any(g => g.Length != 3)))
            return null;
        var sign = whole.StartsWith('-') ? "-" : "";
        return string.Concat([sign, .. groups, several ? "" : ".", decimals]);
    }

    /// <summary>A number in a field that counts or weighs, or what is wrong with the text: one writes 2,450 for 2450, another for 2.45, so it is refused.</summary>
    /// <param name="typed">As typed.</param>
    /// <param name="field">The field it was typed into.</param>
    public static Result<decimal> Clear(string? typed, string? field = null) =>
        Read(typed, field)
            .Then(number =>
                IsAmbiguous(typed!)
                    ? Ambiguous("number-ambiguous", typed!.Trim(), (number, "numbers", "0.##"), field)
                    : Result<decimal>.Ok(number)
            );

    /// <summary>
    /// An amount of money, or what is wrong with the text. Three digits after a single mark are refused: one writes 1.250 for 1250, another for 1.25.
    /// </summary>
    /// <param name="typed">As typed.</param>
    /// <param name="field">The field it was typed into.</param>
    public static Result<decimal> Money(string? typed, string? field = null) =>
        Read(typed, field)
            .Then(number =>
                IsAmbiguous(typed!)
                    ? Ambiguous("amount-ambiguous", typed!.Trim(), (number, "amounts", "0.00"), field)
                    : Result<decimal>.Ok(number)
            );

    private static Refusal Ambiguous(string code, string typed, (decimal Number, string Things, string Short) read, string? field)
    {
        var (thousands, fraction) = BothWays(read.Number, read.Short);
        return new Refusal(code, $"“{typed}” can mean two {read.Things}. Write {thousands} or {fraction}.", field);
    }

    /// <summary>The two ways to write what can mean two numbers; null where the text has one meaning or none.</summary>
    internal static (string Thousands, string Fraction)? BothWays(string typed, string form) =>
        IsAmbiguous(typed) && Read(typed) is { IsOk: true } read ? BothWays(read.Value, form) : null;

    // With three digits it would be asked about again.
    private static (string Thousands, string Fraction) BothWays(decimal number, string form) =>
        (
            (number * 1000m).ToString("0", CultureInfo.InvariantCulture),
            number.ToString(decimal.Round(number, 2) == number ? form : "0.0000", CultureInfo.InvariantCulture)
        );

    // Thousands are one to three digits before the mark, and never begin with a nought.
    private static bool IsAmbiguous(string typed)
    {
        var text = string.Concat(typed.Where(c => !char.IsWhiteSpace(c))).TrimStart('+', '-');
        return text.IndexOfAny([',', '.']) is >= 1 and <= 3 and var mark
            && text.Length == mark + 4
            && text[0] != '0'
            && text.Where((_, i) => i != mark).All(char.IsAsciiDigit);
    }

    /// <summary>The number as it is offered for editing, in the reader's culture, without thousands signs.</summary>
    public static string Write(decimal? number) => number?.ToString("0.############", CultureInfo.CurrentCulture) ?? "";
}
