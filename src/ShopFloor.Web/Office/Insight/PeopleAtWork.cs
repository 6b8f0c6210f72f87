using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Insight;

/// <summary>Somebody who works here, and since which day that is known.</summary>
/// <param name="Person">With their week.</param>
/// <param name="Since">Shop-local; no day before it counts.</param>
internal sealed record PersonAtWork(Person Person, DateOnly Since);

/// <summary>Reads who works here and since when: a week of hours says nothing about days before it was entered.</summary>
internal static class PeopleAtWork
{
    /// <summary>The day a person was entered; for one who came with the program the day of the shop's first work.</summary>
    public static async Task<IReadOnlyList<PersonAtWork>> LoadAsync(
        ShopContext context,
        CurrentSettings settings,
        DateTimeOffset now,
        CancellationToken cancel
    )
    {
        var people = await context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync(cancel);
        var entered = await context
            .Audit.AsNoTracking()
            .Where(a => a.What == KeepPerson.Changed && a.Before == "")
            .Select(a => new { a.Subject, a.At })
            .ToListAsync(cancel);
        var days = entered
            .GroupBy(a => a.Subject, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => settings.Day(g.Min(a => a.At)), StringComparer.Ordinal);
        var first = await context.Journal.OrderBy(j => j.Sequence).Select(j => (DateTimeOffset?)j.At).FirstOrDefaultAsync(cancel);
        var begun = settings.Day(first ?? now);
        return [.. people.Select(p => new PersonAtWork(p, days.GetValueOrDefault(p.Code, begun)))];
    }
}
