using ShopFloor.Domain;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>Reads counts and amounts of money as people write them, with comma or point, with or without thousands marks.</summary>
public static class NumberText
{
    /// <summary>A whole number from 0 up.</summary>
    public static int? Count(string? text)
    {
        var plain = Bare(text);
        return int.TryParse(plain, NumberStyles.None, CultureInfo.InvariantCulture, out var count) ? count : null;
    }

    /// <summary>
    /// An amount of at least zero. Money has at most two decimals, so three digits after a single mark are thousands: 1.000 and 1,000 both
    /// mean a thousand.
    /// </summary>
    public static Result<decimal> Amount(string? text)
    {
        var plain = Bare(text).TrimStart('€', '$', '£').TrimEnd('€', '$', '£');
        var marks = plain.Where(c => c is '.' or ',').ToList();
        var decimals = marks.Count > 0 ? plain.Length - 1 - plain.LastIndexOf(marks[^1]) : 0;
        var whole = marks.Count == 0 || (marks.Distinct().Count() == 1 && decimals == 3);
        if (!whole && (decimals is 0 or > 2 || (marks.Count > 1 && marks[^1] == marks[0])))
            return Unreadable;
        var digits = whole ? plain.Replace(".", "").Replace(",", "") : Cut(plain, decimals);
        return decimal.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var amount) ? amount : Unreadable;
    }

    private static Refusal Unreadable => new("amount-unreadable", "This is no amount. Examples: 25, 1250.50");

    private static string Cut(string plain, int decimals) =>
        $"{plain[..^(decimals + 1)].Replace(".", "").Replace(",", "")}.{plain[^decimals..]}";

    private static string Bare(string? text) => string.Concat((text ?? "").Where(c => !char.IsWhiteSpace(c)));
}
