namespace ShopFloor.Web.Wall.Parts;

/// <summary>Instants as the Wall says them.</summary>
public static class WallTime
{
    /// <summary>The shop's time of day.</summary>
    public static string Of(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A span with a sign of its own, e.g. <c>2:10 h</c> or <c>−15 min</c>.</summary>
    public static string Span(TimeSpan span)
    {
        var minutes = (long)Math.Abs(Math.Floor(span.TotalMinutes));
        var text =
            minutes < 60 ? $"{minutes} min"
            : minutes < 2880 ? string.Create(CultureInfo.InvariantCulture, $"{minutes / 60}:{minutes % 60:00} h")
            : $"{minutes / 1440} d";
        return span < TimeSpan.Zero ? $"−{text}" : text;
    }
}
