using ShopFloor.Planning.Layout;

namespace ShopFloor.Planning.Loads;

/// <summary>Room in ovens as a true lay-out on their shelves.</summary>
/// <param name="ovens">One per oven: its shelves, and the footprints of all jobs in the order of the jobs.</param>
/// <param name="effort">Steps of search spent on a load that plain orders cannot lay.</param>
public sealed class ShelfRoom(IReadOnlyList<LayoutTask> ovens, long effort = 0) : LoadRoom
{
    private readonly FitCheck[] checks = [.. ovens.Select(o => new FitCheck(o, effort))];

    /// <inheritdoc/>
    public override bool Fits(int oven, ReadOnlySpan<int> jobs) => checks[oven].Fits(jobs);

    /// <inheritdoc/>
    public override bool FitsAtOnce(int oven, ReadOnlySpan<int> jobs) => checks[oven].FitsAtOnce(jobs);
}
