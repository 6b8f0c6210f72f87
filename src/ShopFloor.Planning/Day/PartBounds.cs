namespace ShopFloor.Planning.DayPlans;

/// <summary>What no plan can go below, part by part, in points, in the order of <see cref="Exchange.Objective.Names"/>. For every plan one of two
/// holds; their sums are the same.</summary>
/// <param name="Together">For plans in which one load takes all of every family that one load can take.</param>
/// <param name="Apart">For plans with a load more.</param>
internal sealed record PartBounds(IReadOnlyList<long> Together, IReadOnlyList<long> Apart)
{
    /// <summary>Nothing is known.</summary>
    public static readonly PartBounds None = new(new long[Exchange.Objective.Names.Count], new long[Exchange.Objective.Names.Count]);

    /// <summary>The sum, which holds for every plan.</summary>
    public long Sum => Together.Sum();

    /// <summary>The one of the two that holds for a plan, never above what the plan has.</summary>
    /// <param name="points">The points of the plan's parts.</param>
    public IReadOnlyList<long> Under(IReadOnlyList<long> points)
    {
        var (together, apart) = (Least(Together, points), Least(Apart, points));
        return together.Sum() >= apart.Sum() ? together : apart;
    }

    private static List<long> Least(IReadOnlyList<long> bounds, IReadOnlyList<long> points) => [.. bounds.Zip(points, Math.Min)];
}
