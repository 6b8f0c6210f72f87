using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.People;

/// <summary>One weekday as typed: up to two shifts, and until when overtime may go.</summary>
public sealed class DayEntry(DayOfWeek day, IReadOnlyList<Shift> shifts)
{
    public DayOfWeek Day => day;
    public string? From { get; set; } = Text(shifts.ElementAtOrDefault(0)?.From);
    public string? To { get; set; } = Text(shifts.ElementAtOrDefault(0)?.NormalTo);
    public string? From2 { get; set; } = Text(shifts.ElementAtOrDefault(1)?.From);
    public string? To2 { get; set; } = Text(shifts.ElementAtOrDefault(1)?.NormalTo);
    public string? Overtime { get; set; } = Text(shifts is [.., var last] && last.To > last.NormalTo ? last.To : null);

    /// <summary>Works as on another day.</summary>
    public void As(DayEntry other) => (From, To, From2, To2, Overtime) = (other.From, other.To, other.From2, other.To2, other.Overtime);

    /// <summary>The same hours on another weekday.</summary>
    public DayEntry On(DayOfWeek weekday)
    {
        var other = new DayEntry(weekday, []);
        other.As(this);
        return other;
    }

    /// <summary>What was entered here stays, the rest follows.</summary>
    /// <param name="before">The day as the form was opened.</param>
    /// <param name="now">The day as somebody else left it.</param>
    /// <param name="meanwhile">Takes up what is new.</param>
    public void Follow(DayEntry before, DayEntry now, Meanwhile meanwhile)
    {
        // A day is one entry: half of one person's shift and half of another's would be nobody's.
        if (now.Words == before.Words)
            return;
        var kept = meanwhile.Take(day.ToString(), Words, before.Words, now.Words);
        if (kept == now.Words)
            As(now);
    }

    private string Words =>
        string.Join(
            ", ",
            new[] { Span(From, To), Span(From2, To2), string.IsNullOrEmpty(Overtime) ? "" : $"…{Overtime}" }.Where(s => s.Length > 0)
        );

    private static string Span(string? from, string? to) => string.IsNullOrEmpty(from) && string.IsNullOrEmpty(to) ? "" : $"{from}–{to}";

    /// <summary>The shifts of the day, or what cannot be read; an empty day is a free day.</summary>
    public Result<IReadOnlyList<Shift>> Read()
    {
        var pairs = new[] { (From, To), (From2, To2) }
            .Where(p => !string.IsNullOrEmpty(p.Item1) || !string.IsNullOrEmpty(p.Item2))
            .ToList();
        var read = pairs.ConvertAll(p => (From: Time(p.Item1), To: Time(p.Item2)));
        var until = Time(Overtime);
        if (read.Exists(r => r.From is null || r.To is null) || (until is null && !string.IsNullOrEmpty(Overtime)))
            return new Refusal("time", $"{day}: give begin and end of each shift, like 08:00 and 16:30.", "shifts");
        return Result<IReadOnlyList<Shift>>.Ok([
            .. read.Select((r, i) => new Shift(day, r.From!.Value, r.To!.Value, i == read.Count - 1 ? until ?? r.To.Value : r.To.Value)),
        ]);
    }

    private static TimeOnly? Time(string? text) =>
        TimeOnly.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time : null;

    private static string Text(TimeOnly? time) => time?.ToString("HH:mm", CultureInfo.InvariantCulture) ?? "";
}

/// <summary>What is typed into a person's page.</summary>
public sealed class PersonForm(PersonRow? row)
{
    private static readonly StationKind[] All =
    [
        StationKind.Bench,
        StationKind.Booth,
        StationKind.Oven,
        StationKind.Press,
        StationKind.Printer,
    ];

    private static readonly DayOfWeek[] Week =
    [
        DayOfWeek.Monday,
        DayOfWeek.Tuesday,
        DayOfWeek.Wednesday,
        DayOfWeek.Thursday,
        DayOfWeek.Friday,
        DayOfWeek.Saturday,
        DayOfWeek.Sunday,
    ];

    public string? Code { get; set; } = row?.Code ?? "";
    public string? Name { get; set; } = row?.Name ?? "";
    public bool IsActive { get; set; } = row?.IsActive ?? true;

    /// <summary>What somebody else changed before this could be saved.</summary>
    public IReadOnlyList<ChangedField> Meanwhile { get; private init; } = [];

    /// <summary>Kinds of station, ticked or not.</summary>
    public IDictionary<StationKind, bool> Can { get; } = All.ToDictionary(k => k, k => row is null || row.Can.Contains(k));

    /// <summary>Monday first.</summary>
    public IReadOnlyList<DayEntry> Days { get; } =
    [.. Week.Select(d => new DayEntry(d, [.. (row?.Shifts ?? []).Where(s => s.Day == d).OrderBy(s => s.From)]))];

    /// <summary>Tuesday to Friday as Monday; the weekend stays.</summary>
    public void WeekAsMonday()
    {
        foreach (var day in Days.Skip(1).Take(4))
            day.As(Days[0]);
    }

    /// <summary>This form on the person as somebody else left them: what was entered stays, the rest follows.</summary>
    public PersonForm Follow(PersonRow now)
    {
        var (before, fresh, meanwhile) = (new PersonForm(row), new PersonForm(now), new Meanwhile());
        static string Ticked(bool on) => on ? "yes" : "no";
        var form = new PersonForm(now)
        {
            Meanwhile = meanwhile.Fields,
            Name = meanwhile.Take("Name", Name, before.Name, now.Name),
            IsActive = meanwhile.Take("Works here", IsActive, before.IsActive, now.IsActive, Ticked),
        };
        foreach (var kind in All)
            form.Can[kind] = meanwhile.Take(kind.ToString(), Can[kind], before.Can[kind], fresh.Can[kind], Ticked);
        foreach (var (day, at) in form.Days.Select((d, i) => (d, i)))
        {
            day.As(Days[at]);
            day.Follow(before.Days[at], fresh.Days[at], meanwhile);
        }
        return form;
    }

    /// <summary>What to save, or every day that cannot be read.</summary>
    public Result<PersonInput> Read()
    {
        var days = Days.Select(d => d.Read()).ToList();
        var faults = days.SelectMany(d => d.Refusals).ToList();
        IReadOnlyList<StationKind> can = [.. Can.Where(c => c.Value).Select(c => c.Key)];
        return faults.Count > 0
            ? Result<PersonInput>.Refused(faults)
            : new PersonInput((Code ?? "").Trim(), row?.Version, Name ?? "", can, [.. days.SelectMany(d => d.Value)], IsActive);
    }
}
