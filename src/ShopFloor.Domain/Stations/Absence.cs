namespace ShopFloor.Domain.Stations;

/// <summary>Days on which somebody does not work.</summary>
/// <param name="Person">Code of the person.</param>
/// <param name="From">First day, shop-local.</param>
/// <param name="To">Last day, inclusive.</param>
/// <param name="Reason">In a word, e.g. <c>holiday</c>; may be empty.</param>
public sealed record Absence(string Person, DateOnly From, DateOnly To, string Reason)
{
    /// <summary>The most days of one entry.</summary>
    public const int MostDays = 366;

    /// <summary>True when the day lies in it.</summary>
    public bool Covers(DateOnly day) => day >= From && day <= To;

    /// <summary>What is wrong, beside its field.</summary>
    public IReadOnlyList<Refusal> Faults()
    {
        var faults = new List<Refusal>();
        if (Person.Length == 0)
            faults.Add(new Refusal("person", "Choose who is away.", "person"));
        if (To < From || To.DayNumber - From.DayNumber >= MostDays)
            faults.Add(new Refusal("days", "The last day is not before the first, and at most a year after it.", "to"));
        if (Reason.Length > 60)
            faults.Add(new Refusal("reason", "A reason has at most 60 characters.", "reason"));
        return faults;
    }
}
