namespace ShopFloor.Domain.Workshop;

/// <summary>What may be said of an order for a season.</summary>
public enum SeasonWord
{
    /// <summary>Orders are taken; it is not known yet when this one is ready.</summary>
    Open,

    /// <summary>Orders are taken, and this one is promised in time.</summary>
    InTime,

    /// <summary>Orders are taken, but this one is promised too late.</summary>
    TooLate,

    /// <summary>No more orders are taken for it: none is promised in time, whatever the plan says.</summary>
    Over,

    /// <summary>No more orders are taken for it, and this one is promised too late as well.</summary>
    OverAndTooLate,
}

/// <summary>A time of year for which many order: until when orders are taken, and by when they are handed over.</summary>
/// <param name="Name">What people call it, e.g. <c>Christmas</c>.</param>
/// <param name="LastDay">The last day on which orders for it are taken, shop-local.</param>
/// <param name="HandOverBy">The day by which such orders are handed over, shop-local.</param>
public sealed record Season(string Name, DateOnly LastDay, DateOnly HandOverBy)
{
    /// <summary>From so many days before the last day on it is spoken of (common practice: eight weeks, no source).</summary>
    public const int NearDays = 56;

    /// <summary>The most letters of a name.</summary>
    public const int MostName = 40;

    private const int MostDaysAhead = 731;
    private const int MostDaysBetween = 366;

    /// <summary>What it is called in German; empty: the same.</summary>
    public string German { get; init; } = "";

    /// <summary>From this day on it is spoken of.</summary>
    public DateOnly NearFrom => LastDay.AddDays(-NearDays);

    /// <summary>True while it is spoken of.</summary>
    public bool IsNear(DateOnly today) => today >= NearFrom && today <= HandOverBy;

    /// <summary>What it is called in a language.</summary>
    /// <param name="language">Its two letters.</param>
    public string NameIn(string language) => language == "de" && German.Length > 0 ? German : Name;

    /// <summary>What may be said on a day of an order.</summary>
    /// <param name="today">The day on which it would be booked.</param>
    /// <param name="promised">The day it is promised for; null: not known yet.</param>
    public SeasonWord Say(DateOnly today, DateOnly? promised) =>
        (today <= LastDay, promised) switch
        {
            (true, null) => SeasonWord.Open,
            (true, { } day) => day <= HandOverBy ? SeasonWord.InTime : SeasonWord.TooLate,
            (false, { } day) when day > HandOverBy => SeasonWord.OverAndTooLate,
            _ => SeasonWord.Over,
        };

    /// <summary>What is wrong, beside its field.</summary>
    /// <param name="today">Shop-local.</param>
    public IReadOnlyList<Refusal> Faults(DateOnly today)
    {
        var faults = new List<Refusal>();
        void Must(bool ok, string field, string text)
        {
            if (!ok)
                faults.Add(new Refusal("season", text, field));
        }
        Must(Name.Trim().Length is >= 1 and <= MostName, nameof(Name), $"Give it a name of at most {MostName} characters, like Christmas.");
        Must(German.Length <= MostName, nameof(German), $"At most {MostName} characters.");
        Must(HandOverBy >= today, nameof(HandOverBy), "This day is over. Choose the day of the season that comes.");
        Must(
            HandOverBy.DayNumber - today.DayNumber <= MostDaysAhead,
            nameof(HandOverBy),
            "This is more than two years ahead. Is the year right?"
        );
        Must(LastDay <= HandOverBy, nameof(LastDay), "Orders cannot be taken after the day by which they are handed over.");
        Must(
            HandOverBy.DayNumber - LastDay.DayNumber <= MostDaysBetween,
            nameof(LastDay),
            "This is more than a year before the orders are handed over. Is the year right?"
        );
        return faults;
    }
}
