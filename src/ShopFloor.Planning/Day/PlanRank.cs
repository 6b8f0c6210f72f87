using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>What makes one plan of a day better than another. The objective decides; where the owner has pinned something, fewer pieces left out come
/// first (if leaving one out costs anything), then fewer pins that are not kept, so that a pin is given up only for a piece.</summary>
/// <param name="LeftOut">Pieces left out that count before everything.</param>
/// <param name="UnmetPins">Pinned steps that are not kept.</param>
/// <param name="Value">The objective, in points.</param>
public readonly record struct PlanRank(int LeftOut, int UnmetPins, long Value) : IComparable<PlanRank>
{
    // More than any objective, so that neither can be bought with it.
    private const long PinNotKept = 1_000_000_000_000;
    private const long PieceLeftOut = 1_000 * PinNotKept;

    /// <summary>The rank of a plan; the smallest is the best.</summary>
    /// <param name="day">The day that was planned.</param>
    /// <param name="plan">Its plan.</param>
    public static PlanRank Of(Day day, Plan plan) =>
        HasPins(day)
            ? new PlanRank(Counted(day, plan.LeftOut.Count), plan.UnmetPins.Count, plan.Objective.Value)
            : new PlanRank(0, 0, plan.Objective.Value);

    /// <summary>Whether anything is pinned that is still to be done.</summary>
    public static bool HasPins(Day day) => day.Pieces.Any(p => p.Pins.Any(x => x.Step > p.Done));

    /// <inheritdoc />
    public int CompareTo(PlanRank other) => (LeftOut, UnmetPins, Value).CompareTo((other.LeftOut, other.UnmetPins, other.Value));

    /// <summary>Whether one is better than another.</summary>
    public static bool operator <(PlanRank left, PlanRank right) => left.CompareTo(right) < 0;

    /// <summary>Whether one is worse than another.</summary>
    public static bool operator >(PlanRank left, PlanRank right) => left.CompareTo(right) > 0;

    /// <summary>Whether one is as good as another or better.</summary>
    public static bool operator <=(PlanRank left, PlanRank right) => left.CompareTo(right) <= 0;

    /// <summary>Whether one is as good as another or worse.</summary>
    public static bool operator >=(PlanRank left, PlanRank right) => left.CompareTo(right) >= 0;

    /// <summary>The same as one number for the search, of a day with pins.</summary>
    internal static long InPoints(Day day, int leftOut, int unmetPins, long value) =>
        (PieceLeftOut * Math.Min(Counted(day, leftOut), 5_000)) + (PinNotKept * Math.Min(unmetPins, 999)) + value;

    private static int Counted(Day day, int leftOut) => day.Weights.LeftOut > 0 ? leftOut : 0;
}
