using ShopFloor.Web.Shared;
using ShopFloor.Web.Wall.Reading;

namespace ShopFloor.Web.Wall.Parts;

/// <summary>Instants as the Wall says them.</summary>
public static class WallTime
{
    /// <summary>The shop's time of day.</summary>
    public static string Of(DateTimeOffset at, TimeZoneInfo zone) =>
        TimeZoneInfo.ConvertTime(at, zone).ToString("t", CultureInfo.CurrentCulture);

    /// <summary>The same, with the day before it when that is not today.</summary>
    public static string Of(WallMoment moment, TimeZoneInfo zone, Spoken words)
    {
        var clock = Of(moment.At, zone);
        var local = TimeZoneInfo.ConvertTime(moment.At, zone);
        return moment.Days switch
        {
            0 => clock,
            1 => words["tomorrow {0}", clock],
            -1 => words["yesterday {0}", clock],
            > -7 and < 7 => $"{local.ToString("ddd", CultureInfo.CurrentCulture)} {clock}",
            _ => $"{local.ToString("d MMM", CultureInfo.CurrentCulture)} {clock}",
        };
    }

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
