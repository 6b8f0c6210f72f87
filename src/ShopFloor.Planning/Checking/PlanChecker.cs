using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.Checking;

/// <summary>Judges any plan of a day by the rules of docs/formats.md. It shares the data types with the planner and no logic,
/// and reads on after a finding, so one mistake may be reported under several rules.</summary>
public static class PlanChecker
{
    /// <summary>All broken rules of a plan, in the order of the rules; empty for a good plan.</summary>
    /// <param name="day">The day that was planned.</param>
    /// <param name="plan">The plan.</param>
    /// <param name="daySha256">Fingerprint of the day file's bytes; null: of the day as this program writes it.</param>
    public static IReadOnlyList<Finding> Check(Day day, Plan plan, string? daySha256 = null)
    {
        // Findings read alike everywhere, whatever the signs for decimals and negative numbers are where they are found.
        var culture = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        try
        {
            return Found(day, plan, daySha256);
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }

    private static IReadOnlyList<Finding> Found(Day day, Plan plan, string? daySha256)
    {
        var sheet = new Sheet(day, plan);
        if (plan.DaySha256 != (daySha256 ?? Fingerprint.Sha256(DayWriter.Write(day))))
            sheet.Report("day-differs", "the plan was made for another day file");
        WholeRules.Check(sheet);
        LengthRules.Check(sheet);
        RouteRules.Check(sheet);
        PeopleRules.Check(sheet);
        StationRules.Check(sheet);
        SetPointRules.Check(sheet);
        RoundRules.Check(sheet);
        LoadRules.Check(sheet);
        SessionRules.Check(sheet);
        PlaceRules.Check(sheet);
        GivenRules.Check(sheet);
        ObjectiveRules.Check(sheet);
        return sheet.Findings;
    }

    /// <summary>The amounts of the objective's parts, in their order, recomputed from the tasks.</summary>
    /// <param name="day">The day that was planned.</param>
    /// <param name="plan">The plan; its own objective is not read.</param>
    public static IReadOnlyList<long> Amounts(Day day, Plan plan) => ObjectiveRules.Amounts(new Sheet(day, plan));
}
