using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.People;

/// <summary>One change of the calendar; exactly one of the six is given.</summary>
/// <param name="Close">Days to close, from the first to <paramref name="CloseTo"/>.</param>
/// <param name="CloseTo">Last closed day, inclusive; null: one day.</param>
/// <param name="Open">A closed day that is open again.</param>
/// <param name="Away">An absence to enter.</param>
/// <param name="Back">An absence to take out.</param>
/// <param name="Hours">Hours of one day; of an empty person: of everybody who works on that weekday.</param>
/// <param name="Usual">Hours of one day to take out: theirs are those of their week again.</param>
public sealed record CalendarChange(
    ClosedDay? Close = null,
    DateOnly? CloseTo = null,
    DateOnly? Open = null,
    Absence? Away = null,
    Absence? Back = null,
    DayHours? Hours = null,
    IReadOnlyList<DayHours>? Usual = null
);

/// <summary>Enters and takes out closed days, absences and the hours of single days; promises and plans follow them from then on.</summary>
public sealed class ChangeCalendar(CommandRunner runner) : IUseCase
{
    private const int MostDays = 60;

    /// <summary>Changes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, CalendarChange change, CancellationToken cancel = default) =>
        runner.RunAsync<CalendarChange, Done>(
            nameof(ChangeCalendar),
            Allowed.Owner,
            asked,
            change,
            work => DecideAsync(work, change, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, CalendarChange change, CancellationToken cancel)
    {
        var now = await CurrentSettings.LoadAsync(work.Context, work.Now, cancel);
        var answer = change switch
        {
            { Close: { } close } => await CloseAsync(work, now, close, change.CloseTo ?? close.Day, cancel),
            { Open: { } day } => await KeepClosedAsync(work, now.ClosedDays.Where(c => c.Day != day), cancel),
            { Away: { } away } => await AwayAsync(work, now, away, cancel),
            { Back: { } back } => await KeepAwayAsync(work, now.Absences.Where(a => a != back), cancel),
            { Hours: { } hours } => await DayHoursRule.EnterAsync(work, now, hours, cancel),
            { Usual: { } usual } => await DayHoursRule.KeepAsync(work, now.DayHours.Except(usual), cancel),
            _ => new Refusal("nothing", "Nothing was to be changed."),
        };
        if (answer.IsOk)
            work.Touch(Topic.Person, Guid.Empty);
        return answer;
    }

    private static async Task<Result<Done>> CloseAsync(
        CommandWork work,
        CurrentSettings now,
        ClosedDay first,
        DateOnly to,
        CancellationToken cancel
    )
    {
        if (to < first.Day || to.DayNumber - first.Day.DayNumber >= MostDays)
            return new Refusal(
                "days",
                $"The last day is not before the first, and at most {MostDays} days are closed at once.",
                "closedTo"
            );
        if (first.Day < now.Day(work.Now))
            return new Refusal("past", "This day is over. Choose today or later.", "closedFrom");
        if (first.Reason.Trim().Length is 0 or > 60)
            return new Refusal("reason", "Say why, in at most 60 characters: customers may ask.", "closedWhy");
        var days = Enumerable
            .Range(0, to.DayNumber - first.Day.DayNumber + 1)
            .Select(d => new ClosedDay(first.Day.AddDays(d), first.Reason.Trim()));
        return await KeepClosedAsync(work, now.ClosedDays.Concat(days).GroupBy(c => c.Day).Select(g => g.Last()), cancel);
    }

    private static async Task<Result<Done>> AwayAsync(CommandWork work, CurrentSettings now, Absence away, CancellationToken cancel)
    {
        var faults = away.Faults();
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        if (!await work.Context.People.AnyAsync(p => p.Code == away.Person, cancel))
            return new Refusal("person", "Choose who is away.", "person");
        return await KeepAwayAsync(work, now.Absences.Append(away).Distinct(), cancel);
    }

    private static async Task<Result<Done>> KeepClosedAsync(CommandWork work, IEnumerable<ClosedDay> days, CancellationToken cancel)
    {
        IReadOnlyList<ClosedDay> sorted = [.. days.OrderBy(d => d.Day)];
        await work.KeepAsync(SettingKeys.ClosedDays, sorted, cancel);
        return default(Done);
    }

    private static async Task<Result<Done>> KeepAwayAsync(CommandWork work, IEnumerable<Absence> absences, CancellationToken cancel)
    {
        IReadOnlyList<Absence> sorted = [.. absences.OrderBy(a => a.From).ThenBy(a => a.Person, StringComparer.Ordinal)];
        await work.KeepAsync(SettingKeys.Absences, sorted, cancel);
        return default(Done);
    }
}
