using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Turns weekly shifts, hours of single days and closed days, shop-local, into intervals of seconds from the plan's zero.</summary>
public static class DayTimes
{
    /// <summary>The shifts of a person that touch [0, horizon), closed days and absences left out, overlapping or touching ones joined.</summary>
    public static IReadOnlyList<Plan.Shift> Shifts(Person person, ShopSnapshot shop, int horizon) =>
        Shifts(person, shop.Settings, shop.Now, horizon);

    /// <summary>True when a planned day has the hours in which these people work: none was changed since it was planned.</summary>
    /// <param name="planned">The planned day.</param>
    /// <param name="zero">The instant its seconds count from, UTC.</param>
    /// <param name="people">Who works here now.</param>
    /// <param name="settings">With closed days, absences and hours of single days.</param>
    /// <param name="now">The instant, a whole second.</param>
    public static bool AreOf(
        Plan.Day planned,
        DateTimeOffset zero,
        IEnumerable<Person> people,
        CurrentSettings settings,
        DateTimeOffset now
    )
    {
        var shift = ShopSnapshot.Seconds(zero, now);
        bool IsSame(Person person, Plan.Person known) =>
            known
                .Shifts.Where(s => s.ToS > shift)
                .Select(s => (From: Math.Max(s.FromS - shift, 0), Normal: Math.Max(s.NormalToS - shift, 0), To: s.ToS - shift))
                .SequenceEqual(Shifts(person, settings, now, planned.HorizonS - shift).Select(s => (s.FromS, s.NormalToS, s.ToS)));
        return people.All(p => planned.People.FirstOrDefault(k => k.Id == p.Code) is { } known && IsSame(p, known));
    }

    private static List<Plan.Shift> Shifts(Person person, CurrentSettings settings, DateTimeOffset now, int horizon)
    {
        var zone = settings.Zone;
        var first = settings.Day(now).AddDays(-1);
        var found = new List<Plan.Shift>();
        for (var day = first; ShopSnapshot.Seconds(now, Utc(day, TimeOnly.MinValue, zone)) < horizon; day = day.AddDays(1))
            foreach (var shift in settings.ShiftsOn(person, day))
            {
                int At(TimeOnly time) => Math.Clamp(ShopSnapshot.Seconds(now, Utc(day, time, zone)), 0, horizon);
                var (from, normal, to) = (At(shift.From), At(shift.NormalTo), At(shift.To));
                if (from < to)
                    found.Add(new Plan.Shift(from, Math.Clamp(normal, from, to), to));
            }
        return Join([.. found.OrderBy(s => s.FromS)]);
    }

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
