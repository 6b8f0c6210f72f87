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

/// <summary>Hours of one day that several people have alike.</summary>
/// <param name="Of">The entries, at least one.</param>
/// <param name="Names">Whose they are.</param>
public sealed record DayHoursRow(IReadOnlyList<DayHours> Of, IReadOnlyList<string> Names)
{
    /// <summary>Which day.</summary>
    public DateOnly Day => Of[0].Day;

    /// <summary>From when to when, e.g. <c>08:00–12:00</c>.</summary>
    public string Span(CultureInfo culture) =>
        string.Join(
            ", ",
            Of[0].Shifts.OrderBy(s => s.From).Select(s => $"{s.From.ToString("t", culture)}–{s.NormalTo.ToString("t", culture)}")
        );

    /// <summary>Until when overtime may go; null: there is none.</summary>
    public TimeOnly? Overtime => Of[0].Shifts.Where(s => s.To > s.NormalTo).Select(s => (TimeOnly?)s.To).Max();
}

/// <summary>Who works when, and when nobody does.</summary>
public sealed record PeopleSheet(
    IReadOnlyList<PersonRow> People,
    IReadOnlyList<ClosedDay> Closed,
    IReadOnlyList<Absence> Absences,
    DateOnly Today
)
{
    /// <summary>Days with hours of their own, today and later.</summary>
    public IReadOnlyList<DayHoursRow> Hours { get; init; } = [];

    /// <summary>The absence that covers today or comes next; null: none.</summary>
    public Absence? Next(string person) => Absences.Where(a => a.Person == person && a.To >= Today).MinBy(a => a.From);
}

/// <summary>Reads people, closed days, hours of single days and absences; what is over is left out.</summary>
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
        )
        {
            Hours = Rows(settings.DayHours.Where(h => h.Day >= today), people),
        };
    }

    private static IReadOnlyList<DayHoursRow> Rows(IEnumerable<DayHours> hours, List<PersonRow> people) =>
        [
            .. hours
                .GroupBy(h => h with { Person = "" })
                .OrderBy(g => g.Key.Day)
                .Select(g => new DayHoursRow([.. g], [.. g.Select(h => people.Find(p => p.Code == h.Person)?.Name ?? h.Person)])),
        ];
}
