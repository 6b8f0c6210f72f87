namespace ShopFloor.Data.Records;

/// <summary>A plan that was published; a version never changes.</summary>
public sealed class PlanVersion
{
    private PlanVersion() { }

    /// <summary>A plan.</summary>
    public PlanVersion(int number, DateTimeOffset zero, DateTimeOffset at, long journal, string dayJson, string planJson, string note)
    {
        (Number, Zero, At, Journal, DayJson, PlanJson, Note) = (number, zero, at, journal, dayJson, planJson, note);
    }

    /// <summary>1, 2, 3 …</summary>
    public int Number { get; private set; }

    /// <summary>The instant from which its seconds count, UTC.</summary>
    public DateTimeOffset Zero { get; private set; }

    /// <summary>When published, UTC.</summary>
    public DateTimeOffset At { get; private set; }

    /// <summary>Last journal entry that its snapshot contains.</summary>
    public long Journal { get; private set; }

    /// <summary>The day it plans, as a day file.</summary>
    public string DayJson { get; private set; } = "";

    /// <summary>The plan, as a plan file.</summary>
    public string PlanJson { get; private set; } = "";

    /// <summary>Why it was made.</summary>
    public string Note { get; private set; } = "";
}
