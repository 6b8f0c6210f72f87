namespace ShopFloor.Planning.DayPlans;

/// <summary>When, by whom and where the current solution does each step; kept while the decoder tries others.</summary>
internal sealed class PlacedTimes(Shop shop)
{
    public int[] Start { get; } = new int[shop.Nodes.Length];

    public int[] End { get; } = new int[shop.Nodes.Length];

    public int[] Round { get; } = new int[shop.Nodes.Length];

    public int[] Person { get; } = new int[shop.Nodes.Length];

    public int[] Station { get; } = new int[shop.Nodes.Length];

    /// <summary>Keeps the times of what the decoder has just placed.</summary>
    public void Remember(Decoder decoder)
    {
        decoder.Start.CopyTo(Start, 0);
        decoder.End.CopyTo(End, 0);
        decoder.RoundOf.CopyTo(Round, 0);
        decoder.StationOf.CopyTo(Station, 0);
        decoder.PersonOf.CopyTo(Person, 0);
    }
}
