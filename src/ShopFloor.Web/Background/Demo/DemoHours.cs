using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;

namespace ShopFloor.Web.Background.Demo;

/// <summary>The invented workshop's opening hours: twelve of them, by day from seven; when the demo is started at another time they lie around
/// that, so that somebody is at work and the oven is hot whenever it is looked at.</summary>
public sealed class DemoHours
{
    private const int Usual = 7;
    private const int Long = 12;

    /// <summary>Promises fall on the first day only while so much of it is left to keep them.</summary>
    private static readonly TimeSpan Enough = TimeSpan.FromHours(5);

    private readonly DateTimeOffset now;
    private readonly TimeZoneInfo zone;
    private readonly DateOnly first;
    private readonly int opens;

    /// <summary>The hours of a demo that is started now.</summary>
    public DemoHours(DateTimeOffset now, TimeZoneInfo zone)
    {
        (this.now, this.zone) = (now, zone);
        var local = TimeZoneInfo.ConvertTime(now, zone).DateTime;
        var isUsual = local.TimeOfDay >= TimeSpan.FromHours(Usual + 0.5) && local.TimeOfDay < TimeSpan.FromHours(Usual + 10);
        var opened = isUsual ? local.Date.AddHours(Usual) : local.AddHours(-2);
        (first, opens) = (DateOnly.FromDateTime(opened), opened.Hour);
    }

    /// <summary>The end of a working day, so many days after the first on which promises can be kept.</summary>
    public DateTimeOffset Closing(int days)
    {
        var today = At(first, opens + Long);
        return At(first.AddDays(days + (today - now < Enough ? 1 : 0)), opens + Long);
    }

    /// <summary>Somebody's week, each day alike.</summary>
    /// <param name="from">Hours from opening to their coming.</param>
    /// <param name="normal">Hours of a day's work.</param>
    /// <param name="overtime">Hours they may stay on.</param>
    public IReadOnlyList<Shift> Week(int from, int normal, int overtime) =>
        [
            .. Enum.GetValues<DayOfWeek>()
                .SelectMany(d => Shifts(d, (opens + from, opens + from + normal, opens + from + normal + overtime)))
                .OrderBy(s => s.Day)
                .ThenBy(s => s.From),
        ];

    // What goes past midnight is a second shift, of the next day.
    private static IEnumerable<Shift> Shifts(DayOfWeek day, (int From, int Normal, int To) hours)
    {
        var next = (DayOfWeek)(((int)day + 1) % 7);
        if (hours.From < 24)
            yield return new Shift(day, Time(hours.From), Time(Math.Min(24, hours.Normal)), Time(Math.Min(24, hours.To)));
        if (hours.To > 24)
            yield return new Shift(next, Time(Math.Max(0, hours.From - 24)), Time(Math.Max(0, hours.Normal - 24)), Time(hours.To - 24));
    }

    private static TimeOnly Time(int hour) => hour == 24 ? TimeOnly.MaxValue : new TimeOnly(hour, 0);

    private DateTimeOffset At(DateOnly day, int hour) => DayTimes.Utc(day.AddDays(hour / 24), new TimeOnly(hour % 24, 0), zone);
}
