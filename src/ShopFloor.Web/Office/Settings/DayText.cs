namespace ShopFloor.Web.Office.Settings;

/// <summary>Reads what a field for a day sends.</summary>
internal static class DayText
{
    /// <summary>The day; null for none.</summary>
    internal static DateOnly? Read(string? text) =>
        DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) ? day : null;
}
