using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>
/// When a station is as warm as a batch wants, computed from its heating rate as the plan does it: what it held for its last batch, cooling
/// since then, never below the room.
/// </summary>
public static class WarmUp
{
    /// <summary>The instant when it is warm if it is switched on now; null: it is warm, or its rate is not known.</summary>
    /// <param name="now">Now.</param>
    /// <param name="has">What it holds now, true °C.</param>
    /// <param name="wanted">What it shall hold, true °C.</param>
    /// <param name="heatingPerMinute">Its rate, °C a minute.</param>
    public static DateTimeOffset? At(DateTimeOffset now, decimal has, decimal wanted, decimal? heatingPerMinute) =>
        heatingPerMinute is { } rate and > 0 && wanted > has ? now.AddMinutes((double)((wanted - has) / rate)) : null;

    /// <summary>How fast a station heats, °C a minute; null for one that does not.</summary>
    public static decimal? RateOf(StationSettings settings) => Rates(settings)?.Heating;

    /// <summary>When the station of a batch that has not begun is warm for it.</summary>
    internal static async Task<DateTimeOffset?> ForAsync(ShopContext context, OpenWork work, Batch batch, CancellationToken cancel)
    {
        if (batch is not { State: BatchState.Building, Settings.Celsius: { } wanted })
            return null;
        if (Rates(work.Stations[batch.Station].Settings) is not { } rates)
            return null;
        // While another is in it, it is as warm as that one wants, and when that ends nobody knows.
        if (work.Batches.Any(b => b.Station == batch.Station && b.State == BatchState.Running))
            return null;
        var last = await StationHeat.LastAsync(context, batch.Station, cancel);
        var has = StationHeat.Held(last, work.Now, work.Settings.Profile.RoomCelsius, rates.Cooling);
        return At(work.Now, has, wanted, rates.Heating);
    }

    private static (decimal Heating, decimal Cooling)? Rates(StationSettings settings) =>
        settings switch
        {
            OvenSettings s => (s.HeatingPerMinute, s.CoolingPerMinute),
            PressSettings s => (s.HeatingPerMinute, s.CoolingPerMinute),
            _ => null,
        };
}
