using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.People;

/// <summary>A person in the list.</summary>
public sealed record PersonRow(
    string Code,
    string Name,
    IReadOnlyList<StationKind> Can,
    IReadOnlyList<Shift> Shifts,
    bool IsActive,
    int Version
)
{
    /// <summary>Hours of a week, without overtime.</summary>
    public decimal WeekHours => Shifts.Sum(s => (decimal)(s.NormalTo - s.From).TotalHours);
}

/// <summary>Who works when, and when nobody does.</summary>
public sealed record PeopleSheet(
    IReadOnlyList<PersonRow> People,
    IReadOnlyList<ClosedDay> Closed,
    IReadOnlyList<Absence> Absences,
    DateOnly Today
)
{
    /// <summary>The absence that covers today or comes next; null: none.</summary>
    public Absence? Next(string person) => Absences.Where(a => a.Person == person && a.To >= Today).MinBy(a => a.From);
}

/// <summary>Reads people, closed days and absences; what is over is left out.</summary>
public sealed class PeopleView(IDbContextFactory<ShopContext> contexts, TimeProvider time) : IPageView
{
    /// <summary>By name.</summary>
    public async Task<PeopleSheet> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var now = time.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, cancel);
        var today = settings.Day(now);
        var people = await context
            .People.AsNoTracking()
            .OrderByDescending(p => p.IsActive)
            .ThenBy(p => p.Name)
            .Select(p => new PersonRow(p.Code, p.Name, p.Can, p.Shifts, p.IsActive, p.Version))
            .ToListAsync(cancel);
        return new PeopleSheet(
            people,
            [.. settings.ClosedDays.Where(c => c.Day >= today)],
            [.. settings.Absences.Where(a => a.To >= today)],
            today
        );
    }
}
