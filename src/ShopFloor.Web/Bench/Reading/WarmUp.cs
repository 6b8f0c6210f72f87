using ShopFloor.Data;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;

namespace ShopFloor.Web.Bench.Reading;

/// <summary>How far a station is from what a batch wants of it.</summary>
/// <param name="Has">What it holds now, true °C, as computed.</param>
/// <param name="At">When it is warm if it is switched on now, UTC.</param>
/// <param name="Last">The last batch that ended in it; null: it was never used.</param>
public sealed record Warming(decimal Has, DateTimeOffset At, Batch? Last);

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

    /// <summary>The warming up that a batch that has not begun waits for; null: its station is warm, or nobody can say.</summary>
    internal static async Task<Warming?> ForAsync(ShopContext context, OpenWork work, Batch batch, CancellationToken cancel)
    {
        if (batch.State != BatchState.Building)
            return null;
        // While another is in it, it is as warm as that one wants, and when that ends nobody knows.
        if (work.Batches.Any(b => b.Station == batch.Station && b.State == BatchState.Running))
            return null;
        return await OfAsync(context, work.Stations[batch.Station], batch, (work.Now, work.Settings.Profile.RoomCelsius), cancel);
    }

    /// <summary>The warming up that a batch asks of a station in which nothing runs; null: it is warm, or nobody can say.</summary>
    /// <param name="context">Where to look.</param>
    /// <param name="station">The station.</param>
    /// <param name="batch">The batch.</param>
    /// <param name="now">Now, and the room, °C.</param>
    /// <param name="cancel">Ends the reading.</param>
    internal static async Task<Warming?> OfAsync(
        ShopContext context,
        Station station,
        Batch batch,
        (DateTimeOffset At, decimal Room) now,
        CancellationToken cancel
    )
    {
        if (batch.Settings.Celsius is not { } wanted || Rates(station.Settings) is not { } rates)
            return null;
        var last = await StationHeat.LastAsync(context, station.Id, cancel);
        var has = StationHeat.Held(last, now.At, now.Room, rates.Cooling);
        return At(now.At, has, wanted, rates.Heating) is { } warm ? new Warming(has, warm, last) : null;
    }

    private static (decimal Heating, decimal Cooling)? Rates(StationSettings settings) =>
        settings switch
        {
            OvenSettings s => (s.HeatingPerMinute, s.CoolingPerMinute),
            PressSettings s => (s.HeatingPerMinute, s.CoolingPerMinute),
            _ => null,
        };
}
