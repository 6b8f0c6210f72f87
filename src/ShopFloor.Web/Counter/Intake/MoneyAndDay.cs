namespace ShopFloor.Web.Counter.Intake;

/// <summary>Amounts and days as the customer reads them: numbers in the screen's culture, money with its letters, days of the shop.</summary>
public readonly record struct MoneyAndDay(CounterChoices Choices)
{
    /// <summary>E.g. <c>24.50 EUR</c>.</summary>
    public string Money(decimal amount) =>
        $"{amount.ToString("N" + Domain.Quantities.Money.MinorDigits(Choices.Currency), CultureInfo.CurrentCulture)}\u00A0{Choices.Currency}";

    /// <summary>E.g. <c>Friday, 6 March</c>; with the year when it is not this one.</summary>
    public string Day(DateTimeOffset at) => Day(DateOnly.FromDateTime(Choices.Local(at).DateTime));

    /// <summary>The same for a day.</summary>
    public string Day(DateOnly day) => Day(day, Choices.Today);

    /// <summary>The same for a day, seen from another.</summary>
    public static string Day(DateOnly day, DateOnly today)
    {
        var culture = CultureInfo.CurrentCulture;
        var date = day.ToString(
            day.Year == today.Year ? culture.DateTimeFormat.MonthDayPattern : culture.DateTimeFormat.LongDatePattern,
            culture
        );
        return day.Year == today.Year ? $"{day.ToString("dddd", culture)}, {date}" : date;
    }
}
