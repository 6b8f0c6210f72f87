using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Batches;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>Stations and coatings in the planner's terms.</summary>
public static class DayStations
{
    /// <summary>A station, or null for one that the planner does not know (a printer).</summary>
    public static Plan.Station? Of(Station station, ShopSnapshot shop, int horizon)
    {
        var down = Down(station, shop, horizon);
        return station.Settings switch
        {
            BenchSettings s => new Plan.Bench(station.Code, down, s.Places),
            BoothSettings s => new Plan.Booth(station.Code, down, [.. s.SharesAirWith.Where(code => IsOven(code, shop))]),
            RackSettings s => new Plan.Rack(station.Code, down, s.Width.Micrometres * s.Depth.Micrometres * s.Levels, Um(s.Gap)),
            OvenSettings s => Oven(station, s, down, shop),
            PressSettings s => Press(station, s, down, shop),
            _ => null,
        };
    }

    private static bool IsOven(string code, ShopSnapshot shop) => shop.Stations.Any(s => s.Kind == StationKind.Oven && s.Code == code);

    private static IReadOnlyList<Plan.Span> Down(Station station, ShopSnapshot shop, int horizon)
    {
        var down = station.DownUntil is { } until ? shop.Seconds(until) : 0;
        var to = Math.Max(down, TakenStations.Until(station, shop) ?? 0);
        return to > 0 ? [new Plan.Span(0, Math.Min(to, horizon))] : [];
    }

    private static Plan.Oven Oven(Station station, OvenSettings s, IReadOnlyList<Plan.Span> down, ShopSnapshot shop) =>
        new(
            station.Code,
            down,
            Heat(station, shop, (s.LowestCelsius, s.HighestCelsius, s.ErrorCelsius), (s.HeatingPerMinute, s.CoolingPerMinute)),
            Um(s.Margin),
            Um(s.Gap),
            [.. s.Shelves.Select(shelf => new Plan.Shelf(Um(shelf.Width), Um(shelf.Depth), Um(shelf.Clear)))],
            s.LoadSeconds,
            s.LoadEachSeconds,
            s.UnloadSeconds,
            s.UnloadEachSeconds,
            s.HeaterWatts,
            (int)(OvenVapour.Limit(s).Value * 1000),
            Tenths(s.HotAboveCelsius)
        );

    // A wrap press takes one piece at a time: its place is as wide as the widest, and so is the gap to a second one.
    private static Plan.Press Press(Station station, PressSettings s, IReadOnlyList<Plan.Span> down, ShopSnapshot shop) =>
        new(
            station.Code,
            down,
            Heat(station, shop, (s.LowestCelsius, s.HighestCelsius, s.ErrorCelsius), (s.HeatingPerMinute, s.CoolingPerMinute)),
            Um(s.Wrap is null ? s.Margin : Length.Zero),
            Um(s.Wrap?.Widest ?? s.Gap),
            Um(s.Wrap?.Widest ?? s.Width),
            Um(s.Wrap?.Widest ?? s.Depth),
            Um(s.Wrap?.Tallest ?? s.Thickest),
            Um(s.Wrap is null ? s.ThicknessTolerance : Length.Zero),
            s.LayUpSeconds,
            s.LayUpEachSeconds
        )
        {
            WrapsFromUm = s.Wrap is { } wrap ? Um(wrap.Thinnest) : null,
        };

    private static Plan.Heat Heat(
        Station station,
        ShopSnapshot shop,
        (decimal Lowest, decimal Highest, decimal Error) dial,
        (decimal Heating, decimal Cooling) rate
    ) =>
        new(
            Tenths(dial.Lowest),
            Tenths(dial.Highest),
            Tenths(dial.Error),
            NowTenths(station, shop, rate.Cooling),
            (int)(rate.Heating * 1000),
            (int)(rate.Cooling * 1000)
        );

    /// <summary>What the station holds now: the setting of its running batch; else that of its last one, cooling since it ended.</summary>
    private static int NowTenths(Station station, ShopSnapshot shop, decimal coolingPerMinute)
    {
        var room = shop.Settings.Profile.RoomCelsius;
        if (shop.Batches.Values.FirstOrDefault(b => b.Station == station.Id)?.Settings.Celsius is { } running)
            return Tenths(running);
        var last = shop.Ended.LastOrDefault(b => b.Station == station.Id);
        return Tenths(StationHeat.Held(last, shop.Now, room, coolingPerMinute));
    }

    /// <summary>Coatings with the cans that may be used, first expiring first.</summary>
    public static IReadOnlyList<Plan.Coating> Coatings(ShopSnapshot shop) =>
        [
            .. shop.Coatings.Select(c => new Plan.Coating(
                c.Code,
                c.Settings.ShakeSeconds,
                c.Settings.ShakeAgainAfterSeconds,
                [
                    .. shop
                        .Cans.Where(can => can.Coating == c.Id)
                        .Select(can => new Plan.Can(can.Code, (int)(can.LeftMl * 1000), UseBy(can.UseBy, shop)))
                        .Where(can => can.UseByS is not <= 0),
                ]
            )),
        ];

    private static int? UseBy(DateOnly? day, ShopSnapshot shop) =>
        day is { } last ? shop.Seconds(DayTimes.Utc(last.AddDays(1), TimeOnly.MinValue, shop.Settings.Zone)) : null;

    /// <summary>Whole µm.</summary>
    public static int Um(Length length) => (int)length.Micrometres;

    /// <summary>Tenths of °C.</summary>
    public static int Tenths(decimal celsius) => (int)Math.Round(celsius * 10, MidpointRounding.AwayFromZero);
}
