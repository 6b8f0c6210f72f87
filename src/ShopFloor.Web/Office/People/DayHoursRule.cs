using Microsoft.EntityFrameworkCore;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.People;

/// <summary>Whose hours may be others on one day, and which.</summary>
internal static class DayHoursRule
{
    /// <summary>Enters the hours of somebody, or of everybody who works on that weekday, in place of those of their week.</summary>
    public static async Task<Result<Done>> EnterAsync(CommandWork work, CurrentSettings now, DayHours hours, CancellationToken cancel)
    {
        hours = hours with { Reason = hours.Reason.Trim() };
        var faults = hours.Faults();
        if (faults.Count > 0)
            return Result<Done>.Refused(faults);
        if (hours.Day < now.Day(work.Now))
            return new Refusal("past", "This day is over. Choose today or later.", "hoursDay");
        if (now.ClosedDays.FirstOrDefault(c => c.Day == hours.Day) is { } closed)
            return new Refusal("closed", $"The shop is closed on this day ({closed.Reason}). Open it again first.", "hoursDay");
        var people = await work.Context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync(cancel);
        var whose = Whose(people, now, hours);
        if (!whose.IsOk)
            return Result<Done>.Refused(whose.Refusals);
        var entered = whose.Value.Select(code => hours with { Person = code }).ToList();
        var kept = now.DayHours.Where(h => h.Day != hours.Day || !whose.Value.Contains(h.Person));
        return await KeepAsync(work, kept.Concat(entered), cancel);
    }

    /// <summary>Keeps them by day.</summary>
    public static async Task<Result<Done>> KeepAsync(CommandWork work, IEnumerable<DayHours> hours, CancellationToken cancel)
    {
        IReadOnlyList<DayHours> sorted = [.. hours.OrderBy(h => h.Day).ThenBy(h => h.Person, StringComparer.Ordinal)];
        await work.KeepAsync(SettingKeys.DayHours, sorted, cancel);
        return default(Done);
    }

    private static Result<IReadOnlyList<string>> Whose(List<Person> people, CurrentSettings now, DayHours hours)
    {
        if (hours.Person.Length > 0)
            return !people.Exists(p => p.Code == hours.Person) ? new Refusal("person", "Choose whose hours these are.", "hoursWho")
                : now.IsAway(hours.Person, hours.Day) ? new Refusal("away", "Away on this day. Take the absence out first.", "hoursWho")
                : Result<IReadOnlyList<string>>.Ok([hours.Person]);
        var usual = people.FindAll(p => p.Shifts.Any(s => s.Day == hours.Day.DayOfWeek));
        if (usual.Count == 0)
            return new Refusal("nobody", $"Nobody works on a {hours.Day.DayOfWeek}. Choose who comes, one after another.", "hoursWho");
        IReadOnlyList<string> here = [.. usual.Where(p => !now.IsAway(p.Code, hours.Day)).Select(p => p.Code)];
        return here.Count > 0
            ? Result<IReadOnlyList<string>>.Ok(here)
            : new Refusal("away", "Everybody is away on this day. Take an absence out first.", "hoursWho");
    }
}
