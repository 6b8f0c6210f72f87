using ShopFloor.Domain.Stations;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// An oven or a press in which a batch runs of which nothing is planned any more, because all of it was put aside: it is no more free than
/// one that is down.
/// </summary>
internal static class TakenStations
{
    // What should be over and is not is looked at again after half an hour (common practice, no source).
    private const int AgainSeconds = 1_800;

    /// <summary>Until when it is taken, in the plan's seconds, always later than now; null: it is not taken, or what runs in it is planned.</summary>
    internal static int? Until(Station station, ShopSnapshot shop)
    {
        if (station.Kind is not (StationKind.Oven or StationKind.Press) || DayRunning.Members(shop, station).Count > 0)
            return null;
        if (shop.Batches.Values.FirstOrDefault(b => b.Station == station.Id) is not { } batch)
            return null;
        var end = shop.Seconds(batch.CountsFrom ?? shop.Now) + batch.Settings.MinSeconds;
        return end > 0 ? end : end + (-end / AgainSeconds + 1) * AgainSeconds;
    }
}
