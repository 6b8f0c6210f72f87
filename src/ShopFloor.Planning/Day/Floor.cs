namespace ShopFloor.Planning.DayPlans;

/// <summary>What no plan can go below: of those that keep every pin, and of all. A pin that cannot be kept costs nothing in the objective, so the two
/// differ where something is pinned to a later time than it could be done.</summary>
/// <param name="PinsKept">Points of the parts for plans that keep every pin.</param>
/// <param name="Any">The same for all plans.</param>
internal sealed record Floor(PartBounds PinsKept, PartBounds Any)
{
    /// <summary>The bounds of a day.</summary>
    /// <param name="room">The day made ready.</param>
    /// <param name="thorough">Whether to spend some ten milliseconds for 60 pieces on the finish.</param>
    public static Floor Of(Workroom room, bool thorough)
    {
        var bounds = new Bounds(room);
        var any = Of(bounds, thorough, keepPins: false);
        return new Floor(room.HasPins ? Of(bounds, thorough, keepPins: true) : any, any);
    }

    /// <summary>The sum for plans that keep every pin, or for all.</summary>
    public long Sum(bool pinsKept) => (pinsKept ? PinsKept : Any).Sum;

    private static PartBounds Of(Bounds bounds, bool thorough, bool keepPins)
    {
        if (thorough)
            return bounds.FindAcross(keepPins);
        var parts = bounds.Find(thorough, keepPins);
        return new PartBounds(parts, parts);
    }
}
