using ShopFloor.Domain.Stations;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Turns weekly shifts and closed days, shop-local, into intervals of seconds from the plan's zero.</summary>
public static class DayTimes
{
    /// <summary>The shifts of a person that touch [0, horizon), closed days and absences left out, overlapping or touching ones joined.</summary>
    public static IReadOnlyList<Plan.Shift> Shifts(Person person, ShopSnapshot shop, int horizon)
    {
        var zone = shop.Settings.Zone;
        var first = shop.Settings.Day(shop.Now).AddDays(-1);
        var found = new List<Plan.Shift>();
        for (var day = first; shop.Seconds(Utc(day, TimeOnly.MinValue, zone)) < horizon; day = day.AddDays(1))
            foreach (var shift in person.Shifts.Where(s => s.Day == day.DayOfWeek && IsAtWork(person, day, shop)))
            {
                int At(TimeOnly time) => Math.Clamp(shop.Seconds(Utc(day, time, zone)), 0, horizon);
                var (from, normal, to) = (At(shift.From), At(shift.NormalTo), At(shift.To));
                if (from < to)
                    found.Add(new Plan.Shift(from, Math.Clamp(normal, from, to), to));
            }
        return Join([.. found.OrderBy(s => s.FromS)]);
    }

    private static bool IsAtWork(Person person, DateOnly day, ShopSnapshot shop) =>
        !shop.Settings.IsClosed(day) && !shop.Settings.IsAway(person.Code, day);

    /// <summary>The instant of a local time; a time that a clock change skips counts as the moment it skips to.</summary>
    public static DateTimeOffset Utc(DateOnly day, TimeOnly time, TimeZoneInfo zone)
    {
        var local = day.ToDateTime(time, DateTimeKind.Unspecified);
        while (zone.IsInvalidTime(local))
            local = local.AddMinutes(15);
        return new DateTimeOffset(TimeZoneInfo.ConvertTimeToUtc(local, zone), TimeSpan.Zero);
    }

    private static List<Plan.Shift> Join(List<Plan.Shift> sorted)
    {
        var joined = new List<Plan.Shift>();
        foreach (var shift in sorted)
        {
            if (joined.Count > 0 && shift.FromS <= joined[^1].ToS)
            {
                var last = joined[^1];
                var to = Math.Max(last.ToS, shift.ToS);
                // Touching shifts become one; its normal time ends where the later one's does.
                joined[^1] = new Plan.Shift(last.FromS, Math.Min(to, Math.Max(last.NormalToS, shift.NormalToS)), to);
            }
            else
                joined.Add(shift);
        }
        return joined;
    }
}
