using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Office.Settings;

/// <summary>Spans of shop-local days as instants, [from, to).</summary>
public static class Period
{
    /// <summary>The calendar month of a day.</summary>
    public static (DateTimeOffset From, DateTimeOffset To) Month(DateOnly day, TimeZoneInfo zone)
    {
        var first = new DateOnly(day.Year, day.Month, 1);
        return (DayTimes.Utc(first, TimeOnly.MinValue, zone), DayTimes.Utc(first.AddMonths(1), TimeOnly.MinValue, zone));
    }

    /// <summary>Reads <c>2026-11</c>; anything else, and the first and last year there are, which have no day before or after them: the month of the day given.</summary>
    public static DateOnly ReadMonth(string? text, DateOnly otherwise) =>
        DateOnly.TryParseExact($"{text}-01", "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var read)
        && read.Year > DateOnly.MinValue.Year
        && read.Year < DateOnly.MaxValue.Year
            ? read
            : new DateOnly(otherwise.Year, otherwise.Month, 1);

    /// <summary>The month as <see cref="ReadMonth"/> reads it.</summary>
    public static string Write(DateOnly month) => month.ToString("yyyy-MM", CultureInfo.InvariantCulture);
}
