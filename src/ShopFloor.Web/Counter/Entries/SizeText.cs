using System.Text.RegularExpressions;
using ShopFloor.Domain;
using ShopFloor.Domain.Quantities;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>
/// Reads a length as people write it: mm, cm, m or inch, comma or point, fractions, marks and blanks. What could mean two lengths is
/// refused with both ways to write it.
/// </summary>
public static partial class SizeText
{
    /// <summary>The largest piece that makes sense here: 3 m. Also what tells a thousands mark from a decimal one.</summary>
    public static readonly Length Largest = Length.FromMillimetres(3000);

    private const decimal MillimetresPerInch = 25.4m;

    private static readonly Dictionary<char, string> Signs = new()
    {
        ['½'] = " 1/2",
        ['¼'] = " 1/4",
        ['¾'] = " 3/4",
        ['⅓'] = " 1/3",
        ['⅔'] = " 2/3",
        ['⅛'] = " 1/8",
        ['⅜'] = " 3/8",
        ['⅝'] = " 5/8",
        ['⅞'] = " 7/8",
        ['⁄'] = "/",
        ['″'] = "\"",
        ['”'] = "\"",
        ['“'] = "\"",
        ['−'] = "-",
        ['\u00A0'] = " ",
        ['\u202F'] = " ",
        ['\u2009'] = " ",
    };

    // By the clock, not by work done: on a busy machine a match may stand still for a while.
    private const int Patience = 30_000;

    /// <summary>Reads it.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="unit">What a bare number is in.</param>
    public static Result<Length> Read(string? text, LengthUnit unit)
    {
        var plain = string.Concat((text ?? "").Select(c => Signs.TryGetValue(c, out var sign) ? sign : c.ToString())).Trim();
        if (plain.Length == 0)
            return Refuse("size-missing", "Please enter the size.");
        if (plain.Length > 40 || Whole().Match(plain) is not { Success: true } match)
            return Refuse("size-unreadable", "This is no size. Examples: 90, 88,9 mm, 3 1/2 in");
        if (match.Groups["minus"].Success)
            return Refuse("size-negative", "A size is more than zero.");
        var factor = Factor(match.Groups["unit"].Value, unit);
        return match.Groups["over"].Success
            ? FromFraction(match, factor, hasUnit: match.Groups["unit"].Success || unit == LengthUnit.Inch)
            : FromDecimal(match.Groups["number"].Value, factor);
    }

    /// <summary>The text with the unit that its bare number was meant in, so that it stays the same length by whatever unit it is read; other texts as they are.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="unit">What a bare number is in.</param>
    public static string WithUnit(string text, LengthUnit unit)
    {
        if (!Read(text, unit).IsOk)
            return text;
        var said = $"{text.Trim().TrimEnd('.')} {(unit == LengthUnit.Inch ? "in" : "mm")}";
        return Read(said, unit).IsOk ? said : text;
    }

    private static Result<Length> FromFraction(Match match, decimal factor, bool hasUnit)
    {
        var ones = match.Groups["ones"].Success ? Number(match.Groups["ones"].Value) : 0;
        var (over, under) = (Number(match.Groups["over"].Value), Number(match.Groups["under"].Value));
        if (under == 0 || (ones > 0 && over >= under))
            return Refuse("size-unreadable", "This is no size. Examples: 90, 88,9 mm, 3 1/2 in");
        return hasUnit
            ? Within((ones + over / under) * factor)
            : Refuse("size-ambiguous", "Is this in inches? Then write the unit, e.g. 3 1/2 in");
    }

    private static Result<Length> FromDecimal(string number, decimal factor)
    {
        var marks = number.Where(c => c is '.' or ',').ToList();
        if (marks.Count == 0)
            return Within(Number(number) * factor);
        if (marks.Distinct().Count() == 2 || marks.Count > 1)
            return Grouped(number, marks) is { } value
                ? Within(value * factor)
                : Refuse("size-unreadable", "This is no size. Examples: 90, 88,9 mm, 3 1/2 in");
        var asDecimal = Number(number.Replace(',', '.'));
        var asThousands = Thousands().IsMatch(number) ? Number(number.Replace(",", "").Replace(".", "")) : (decimal?)null;
        if (asThousands is { } large && large * factor <= Largest.Millimetres)
            return Refuse("size-ambiguous", "This can be read in two ways. Write 1250 or 1.25, without a thousands mark.");
        return Within(asDecimal * factor);
    }

    /// <summary>Thousands marks of one kind and at most one decimal mark of the other, or null.</summary>
    private static decimal? Grouped(string number, List<char> marks)
    {
        var thousands = marks[0];
        var last = marks[^1];
        var whole = last == thousands ? number : number[..number.LastIndexOf(last)];
        if (marks.Count(c => c != thousands) > 1 || !whole.Split(thousands).Skip(1).All(g => g.Length == 3) || whole[0] is '0')
            return null;
        var bare = number.Replace(thousands.ToString(), "");
        return Number(bare.Replace(',', '.'));
    }

    private static Result<Length> Within(decimal millimetres)
    {
        if (millimetres > Length.MaxMicrometres / 1000m)
            return Refuse("size-too-large", "This is larger than anything we can take.");
        var length = Length.FromMillimetres(millimetres);
        return length > Length.Zero ? length : Refuse("size-zero", "A size is more than zero.");
    }

    private static decimal Factor(string unit, LengthUnit otherwise) =>
        unit.ToLowerInvariant() switch
        {
            "" => otherwise == LengthUnit.Inch ? MillimetresPerInch : 1,
            "mm" => 1,
            "cm" => 10,
            "m" => 1000,
            _ => MillimetresPerInch,
        };

    private static decimal Number(string digits) => decimal.Parse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture);

    private static Refusal Refuse(string code, string text) => new(code, text);

    [GeneratedRegex(
        """^(?<minus>-)?\s*(?:(?:(?<ones>\d{1,6})[\s-]+)?(?<over>\d{1,4})\s*/\s*(?<under>\d{1,4})|(?<number>\d{1,9}(?:[.,]\d{1,9})*))\s*(?<unit>mm|cm|m|"|''|in|inch|inches|zoll)?\.?$""",
        RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture | RegexOptions.CultureInvariant,
        matchTimeoutMilliseconds: Patience
    )]
    private static partial Regex Whole();

    [GeneratedRegex("^[1-9][0-9]{0,2}[.,][0-9]{3}$", RegexOptions.CultureInvariant, matchTimeoutMilliseconds: Patience)]
    private static partial Regex Thousands();
}
