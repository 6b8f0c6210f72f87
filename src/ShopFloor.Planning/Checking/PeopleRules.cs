namespace ShopFloor.Planning.Checking;

/// <summary>Who does a task: somebody who is there, can, and does nothing else.</summary>
internal static class PeopleRules
{
    public static void Check(Sheet sheet)
    {
        foreach (var e in sheet.Entries)
            One(sheet, e);
        foreach (var work in sheet.Entries.Where(e => e.Task.Person is not null).GroupBy(e => e.Task.Person, StringComparer.Ordinal))
            Busy(sheet, [.. work.OrderBy(e => e.Start).ThenBy(e => e.End)]);
    }

    private static void One(Sheet sheet, Entry e)
    {
        if (e.IsAttended && e.Task.Person is null)
            sheet.Report("person-missing", $"nobody does the {e.Task.Kind}", 0, e);
        if (!e.IsAttended && e.Task.Person is not null)
            sheet.Report("person-not-wanted", $"a {e.Task.Kind} needs nobody", 0, e);
        if (e.Person is not { } person)
            return;
        if (e.Station is { } station && !person.Can.Contains(station.Kind))
            sheet.Report("person-cannot", $"{person.Id} does not work at {station.Id}", 0, e);
        if (!e.IsRunning && !person.Shifts.Any(s => s.FromS <= e.Start && e.End <= s.ToS))
            sheet.Report("person-absent", $"{person.Id} is not there from {e.Start} to {e.End}", 0, e);
    }

    private static void Busy(Sheet sheet, List<Entry> work)
    {
        for (var i = 0; i < work.Count; i++)
        for (var j = i + 1; j < work.Count && work[j].Start < work[i].End; j++)
            if (work[j].Overlaps(work[i].Start, work[i].End))
                sheet.Report(
                    "person-busy",
                    $"{work[i].Task.Person} does two things at once",
                    Math.Min(work[i].End, work[j].End) - work[j].Start,
                    work[i],
                    work[j]
                );
    }
}
