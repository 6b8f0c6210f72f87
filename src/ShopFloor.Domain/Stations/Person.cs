namespace ShopFloor.Domain.Stations;

/// <summary>When somebody works on a weekday, shop-local. Work after <paramref name="NormalTo"/> is overtime.</summary>
/// <param name="Day">Weekday.</param>
/// <param name="From">Begin.</param>
/// <param name="NormalTo">End of normal time.</param>
/// <param name="To">Latest end.</param>
public sealed record Shift(DayOfWeek Day, TimeOnly From, TimeOnly NormalTo, TimeOnly To)
{
    /// <summary>What is wrong with somebody's shifts; null: nothing.</summary>
    /// <param name="shifts">Of one day or of a week.</param>
    /// <param name="field">What it is said beside.</param>
    public static Refusal? Fault(IReadOnlyList<Shift> shifts, string field)
    {
        foreach (var s in shifts)
            if (!(s.From < s.To && s.From <= s.NormalTo && s.NormalTo <= s.To))
                return new Refusal("shift-order", $"{s.Day}: a shift begins, goes over into overtime and ends, in this order.", field);
        return shifts.GroupBy(s => s.Day).FirstOrDefault(Overlaps) is { } both
            ? new Refusal("shift-overlap", $"{both.Key}: the two shifts overlap.", field)
            : null;
    }

    private static bool Overlaps(IEnumerable<Shift> day)
    {
        var sorted = day.OrderBy(s => s.From).ToList();
        return sorted.Zip(sorted.Skip(1)).Any(pair => pair.First.To > pair.Second.From);
    }
}

/// <summary>Somebody who works in the shop.</summary>
public sealed class Person
{
    private Person() { }

    /// <summary>A person.</summary>
    public Person(PersonId id, string code, string name, IReadOnlyList<StationKind> can, IReadOnlyList<Shift> shifts)
    {
        (Id, Code, Name, Can, Shifts) = (id, code, name, can, shifts);
    }

    /// <summary>Names them.</summary>
    public PersonId Id { get; private set; }

    /// <summary>Short name in plans, e.g. <c>ada</c>.</summary>
    public string Code { get; private set; } = "";

    /// <summary>What people call them.</summary>
    public string Name { get; private set; } = "";

    /// <summary>Kinds of station they work at.</summary>
    public IReadOnlyList<StationKind> Can { get; private set; } = [];

    /// <summary>Their week.</summary>
    public IReadOnlyList<Shift> Shifts { get; private set; } = [];

    /// <summary>False when they no longer work here.</summary>
    public bool IsActive { get; private set; } = true;

    /// <summary>Counts changes.</summary>
    public int Version { get; private set; }

    /// <summary>Changes what they do and when.</summary>
    public Result<Done> Change(string name, IReadOnlyList<StationKind> can, IReadOnlyList<Shift> shifts, bool active)
    {
        if (string.IsNullOrWhiteSpace(name) || name.Length > 60)
            return new Refusal("name-missing", "Give a name of at most 60 characters.", "name");
        if (Shift.Fault(shifts, "shifts") is { } fault)
            return fault;
        (Name, Can, Shifts, IsActive) = (name.Trim(), [.. can], [.. shifts], active);
        Version++;
        return default(Done);
    }
}

/// <summary>A day on which the shop is closed.</summary>
/// <param name="Day">Which, shop-local.</param>
/// <param name="Reason">Shown in the calendar.</param>
public sealed record ClosedDay(DateOnly Day, string Reason);
