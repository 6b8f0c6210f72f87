using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Turns a planned end into a promise: the reserve on top, then the end of that working day.</summary>
public static class PromiseRounding
{
    /// <summary>Never less than this on top of the plan, seconds (common practice, no source).</summary>
    private const int LeastMargin = 3_600;

    /// <summary>Never more than this on top of the plan, seconds (common practice, no source).</summary>
    private const int MostMargin = 3 * 86_400;

    /// <summary>The promise, UTC.</summary>
    /// <param name="shop">The snapshot the end counts from.</param>
    /// <param name="end">Planned end, seconds.</param>
    /// <param name="rush">A rush order gets half the margin.</param>
    public static DateTimeOffset Up(ShopSnapshot shop, int end, bool rush)
    {
        var reserve = (double)shop.Settings.Profile.Reserve;
        var margin = Math.Clamp(end * reserve / (1 - reserve), LeastMargin, MostMargin) / (rush ? 2 : 1);
        var at = shop.Now.AddSeconds(end + margin);
        var first = shop.Settings.Day(at);
        for (var day = first; day < first.AddDays(30); day = day.AddDays(1))
            if (CloseOf(day, shop.People, shop.Settings) is { } close && close >= at)
                return close;
        return at;
    }

    /// <summary>When the last shift of a day ends, UTC, of those who are not away; null on a day on which nobody works.</summary>
    public static DateTimeOffset? CloseOf(DateOnly day, IEnumerable<Person> people, CurrentSettings settings)
    {
        var ends = people.SelectMany(p => settings.ShiftsOn(p, day)).Select(s => s.NormalTo).ToList();
        return ends.Count == 0 ? null : DayTimes.Utc(day, ends.Max(), settings.Zone);
    }
}
