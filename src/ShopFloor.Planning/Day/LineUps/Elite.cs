namespace ShopFloor.Planning.DayPlans;

/// <summary>The best solutions that a chain has met, of each cost and mean end one.</summary>
/// <param name="most">How many are kept.</param>
internal sealed class Elite(int most)
{
    private readonly List<(long Cost, long MeanEnd, Solution Solution)> kept = [];

    /// <summary>The solutions, best first.</summary>
    public IReadOnlyList<(long Cost, long MeanEnd, Solution Solution)> Kept => kept;

    /// <summary>Whether a solution would be kept.</summary>
    public bool Wants(long cost, long meanEnd) =>
        (kept.Count < most || (cost, meanEnd).CompareTo((kept[^1].Cost, kept[^1].MeanEnd)) < 0) && At(cost, meanEnd) >= 0;

    /// <summary>Keeps a solution if it belongs to the best.</summary>
    public void Offer(long cost, long meanEnd, Solution solution)
    {
        if (!Wants(cost, meanEnd))
            return;
        kept.Insert(At(cost, meanEnd), (cost, meanEnd, solution));
        if (kept.Count > most)
            kept.RemoveAt(most);
    }

    /// <summary>Where it belongs, or -1 when there is one like it.</summary>
    private int At(long cost, long meanEnd)
    {
        var at = kept.FindIndex(k => (k.Cost, k.MeanEnd).CompareTo((cost, meanEnd)) >= 0);
        return at < 0 ? kept.Count
            : (kept[at].Cost, kept[at].MeanEnd) == (cost, meanEnd) ? -1
            : at;
    }
}
