using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Insight;

/// <summary>Somebody who works here or did, and from which day to which that is known.</summary>
/// <param name="Person">With their week.</param>
/// <param name="Since">Shop-local; no day before it counts.</param>
/// <param name="Until">Shop-local, the day on which they left; no day after it counts. Null: they work here.</param>
internal sealed record PersonAtWork(Person Person, DateOnly Since, DateOnly? Until)
{
    /// <summary>Whether the day lies in their time here.</summary>
    public bool IsHere(DateOnly day) => Since <= day && !(Until < day);
}

/// <summary>
/// Reads who works here and since when: a week of hours says nothing about days before it was entered. Who left stays in the months that they
/// worked, so that these stay what they were.
/// </summary>
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
        var people = await context.People.AsNoTracking().ToListAsync(cancel);
        var changes = await context.Audit.AsNoTracking().Where(a => a.What == KeepPerson.Changed).OrderBy(a => a.At).ToListAsync(cancel);
        var days = changes
            .Where(a => a.Before.Length == 0)
            .GroupBy(a => a.Subject, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => settings.Day(g.Min(a => a.At)), StringComparer.Ordinal);
        var first = await context.Journal.OrderBy(j => j.Sequence).Select(j => (DateTimeOffset?)j.At).FirstOrDefaultAsync(cancel);
        var begun = settings.Day(first ?? now);
        DateOnly? Left(Person person) =>
            changes.LastOrDefault(a => a.Subject == person.Code && KeepPerson.Works(a.Before) && !KeepPerson.Works(a.After)) is { } left
                ? settings.Day(left.At)
                : null;
        return
        [
            .. people
                .Select(p => new PersonAtWork(p, days.GetValueOrDefault(p.Code, begun), p.IsActive ? null : Left(p)))
                .Where(p => p.Person.IsActive || p.Until is not null),
        ];
    }
}
