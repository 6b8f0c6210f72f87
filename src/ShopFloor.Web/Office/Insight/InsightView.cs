using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Insight;

/// <summary>Reads the figures of a month and of the month before it.</summary>
public sealed class InsightView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>The month of <paramref name="month"/>, shop-local; nothing given: the running one.</summary>
    public async Task<InsightSheet> LoadAsync(string? month, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var wanted = Period.ReadMonth(month, settings.Day(now));
        var people = await PeopleAtWork.LoadAsync(context, settings, now, cancel);
        var reader = new MonthReader(context, settings, now, people);
        return new InsightSheet(
            await reader.ReadAsync(wanted, cancel),
            await reader.ReadAsync(wanted.AddMonths(-1), cancel),
            settings.Profile.Currency,
            wanted.Year == settings.Day(now).Year && wanted.Month == settings.Day(now).Month
        );
    }

    /// <summary>Hours of a month, up to an instant, in which at least one person is at work.</summary>
    /// <param name="people">With their weekly shifts, and the days from and to which they count.</param>
    /// <param name="month">Any day of it.</param>
    /// <param name="until">Last day that counts, inclusive.</param>
    /// <param name="settings">For closed days, absences and the hours of single days.</param>
    internal static decimal OpenHours(IReadOnlyList<PersonAtWork> people, DateOnly month, DateOnly until, CurrentSettings settings)
    {
        var hours = 0m;
        for (var day = new DateOnly(month.Year, month.Month, 1); day.Month == month.Month && day <= until; day = day.AddDays(1))
        {
            var shifts = people.Where(p => p.IsHere(day)).SelectMany(p => settings.ShiftsOn(p.Person, day));
            hours += Union(shifts.Select(s => ((decimal)s.From.ToTimeSpan().TotalHours, (decimal)s.NormalTo.ToTimeSpan().TotalHours)));
        }
        return hours;
    }

    /// <summary>Length of the union of intervals.</summary>
    public static decimal Union(IEnumerable<(decimal From, decimal To)> intervals)
    {
        var (sum, end) = (0m, decimal.MinValue);
        foreach (var (from, to) in intervals.OrderBy(i => i.From))
        {
            sum += Math.Max(0, to - Math.Max(from, end));
            end = Math.Max(end, to);
        }
        return sum;
    }
}
