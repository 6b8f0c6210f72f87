namespace ShopFloor.Domain.Stations;

/// <summary>The hours of somebody on one single day, in place of those of their week.</summary>
/// <param name="Person">Code of the person.</param>
/// <param name="Day">Which, shop-local.</param>
/// <param name="Shifts">Their hours, at least one shift, all on the weekday of <paramref name="Day"/>.</param>
/// <param name="Reason">In a word, e.g. <c>half day</c>; may be empty.</param>
public sealed record DayHours(string Person, DateOnly Day, IReadOnlyList<Shift> Shifts, string Reason)
{
    /// <summary>The most letters of a reason.</summary>
    public const int MostReason = 60;

    /// <summary>What is wrong, beside its field.</summary>
    public IReadOnlyList<Refusal> Faults()
    {
        var faults = new List<Refusal>();
        if (Shifts.Count == 0)
            faults.Add(new Refusal("hours-missing", "Give the hours of the day. For a day off enter an absence.", "hours"));
        if (Shifts.Any(s => s.Day != Day.DayOfWeek))
            faults.Add(new Refusal("hours-day", "These hours are for another weekday.", "hours"));
        if (Shift.Fault(Shifts, "hours") is { } fault)
            faults.Add(fault);
        if (Reason.Length > MostReason)
            faults.Add(new Refusal("reason", $"A reason has at most {MostReason} characters.", "hoursWhy"));
        return faults;
    }

    /// <summary>The same hours of the same person on the same day, for the same reason.</summary>
    public bool Equals(DayHours? other) =>
        other is not null && (Person, Day, Reason) == (other.Person, other.Day, other.Reason) && Shifts.SequenceEqual(other.Shifts);

    /// <summary>By whose hours they are, and when.</summary>
    public override int GetHashCode() => HashCode.Combine(Person, Day, Reason);
}
