namespace ShopFloor.Domain.Invoicing;

/// <summary>
/// A series of document numbers: unique and without gaps. Only the form is here; the counter lives in the database and moves in the transaction that
/// stores the document (Directive 2006/112/EC Art. 226(2): a sequential number, in one or more series, which identifies the invoice).
/// </summary>
/// <param name="Code">Stable name of the series, e.g. <c>invoice</c>.</param>
/// <param name="Prefix">Before the number, e.g. <c>C</c>; letters, digits and hyphens, up to 8.</param>
/// <param name="PerYear">Whether it starts again at 1 each year, the year then being part of the number.</param>
/// <param name="Digits">Least number of digits, 1 to 9.</param>
public sealed record NumberSeries(string Code, string Prefix, bool PerYear, int Digits)
{
    /// <summary>Key of the counter on a day: the series and, when it starts again each year, the year.</summary>
    public string CounterKey(DateOnly day) => PerYear ? string.Create(CultureInfo.InvariantCulture, $"{Code}/{day.Year}") : Code;

    /// <summary>The number as printed, e.g. <c>C2026-0007</c>.</summary>
    /// <param name="number">1 or more.</param>
    /// <param name="day">Day of issue.</param>
    /// <exception cref="ArgumentOutOfRangeException">The number is below 1.</exception>
    public string Format(long number, DateOnly day)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        var digits = number.ToString(CultureInfo.InvariantCulture).PadLeft(Digits, '0');
        return PerYear ? string.Create(CultureInfo.InvariantCulture, $"{Prefix}{day.Year}-{digits}") : $"{Prefix}{digits}";
    }

    /// <summary>What is wrong with the series; empty when nothing is.</summary>
    public IReadOnlyList<Refusal> Check()
    {
        List<Refusal> found = [];
        if (Prefix.Length > 8 || !Prefix.All(c => char.IsAsciiLetterOrDigit(c) || c == '-'))
            found.Add(new("series-prefix", "A prefix has up to 8 letters, digits or hyphens.", nameof(Prefix)));
        if (Digits is < 1 or > 9)
            found.Add(new("series-digits", "A number has 1 to 9 digits at least.", nameof(Digits)));
        return found;
    }
}
