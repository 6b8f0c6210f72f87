using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>Aerosols are flammable: no spraying while an oven that shares the booth's air is in use, and no heating while somebody sprays there.</summary>
internal static class SharedAir
{
    /// <summary>What has to be decided before something begins at the station; null: nothing near it speaks against it.</summary>
    internal static Task<Refusal?> AskAsync(CommandWork work, Station station) =>
        station.Settings switch
        {
            BoothSettings { SharesAirWith.Count: > 0 } booth => HotAsync(work, station, booth),
            OvenSettings => SprayedAsync(work, station),
            _ => Task.FromResult<Refusal?>(null),
        };

    private static async Task<Refusal?> HotAsync(CommandWork work, Station station, BoothSettings booth)
    {
        var ovens = await work.Context.Stations.Where(s => booth.SharesAirWith.Contains(s.Code)).ToListAsync();
        return await RunningAsync(work, ovens) is { Batch: var running, Station: var oven }
            ? new Refusal(
                "oven-hot",
                $"{oven.Name} is hot and shares the air of {station.Name}: spray mist can catch fire. Wait until {running.Code} is out and the oven has cooled."
            )
            : await StillHotAsync(work, station, ovens);
    }

    // An oven whose load is out stays hot for long.
    private static async Task<Refusal?> StillHotAsync(CommandWork work, Station booth, List<Station> ovens)
    {
        var settings = await CurrentSettings.LoadAsync(work.Context, work.Now, default);
        foreach (var oven in ovens.OrderBy(o => o.Code, StringComparer.Ordinal))
        {
            if (oven.Settings is not OvenSettings it || await StationHeat.LastAsync(work.Context, oven.Id, default) is not { } last)
                continue;
            var has = StationHeat.Held(last, work.Now, settings.Profile.RoomCelsius, it.CoolingPerMinute);
            if (has <= it.HotAboveCelsius)
                continue;
            var cold = work.Now.AddMinutes((double)((has - it.HotAboveCelsius) / it.CoolingPerMinute));
            var until = TimeZoneInfo.ConvertTime(cold, settings.Zone).ToString("t", CultureInfo.CurrentCulture);
            return new Refusal(
                "oven-hot",
                FormattableString.Invariant(
                    $"{oven.Name} still holds about {has:0} °C from {last.Code} and shares the air of {booth.Name}: spray mist can catch fire. Wait until it is below {it.HotAboveCelsius:0.#} °C, at about {until}."
                )
            );
        }
        return null;
    }

    private static async Task<Refusal?> SprayedAsync(CommandWork work, Station oven)
    {
        var booths = (await work.Context.Stations.Where(s => s.Kind == StationKind.Booth).ToListAsync()).FindAll(s =>
            s.Settings is BoothSettings booth && booth.SharesAirWith.Contains(oven.Code, StringComparer.Ordinal)
        );
        return await RunningAsync(work, booths) is not { Batch: var running, Station: var booth }
            ? null
            : new Refusal(
                "oven-hot",
                $"In {booth.Name}, which shares its air with {oven.Name}, {running.Code} is being sprayed: spray mist can catch fire. Wait until {running.Code} is finished and the mist is gone, and leave the oven cold until then."
            );
    }

    private static async Task<(Batch Batch, Station Station)?> RunningAsync(CommandWork work, List<Station> stations)
    {
        var ids = stations.ConvertAll(s => s.Id);
        var running = await work
            .Context.Batches.Where(b => b.State == BatchState.Running && ids.Contains(b.Station))
            .OrderBy(b => b.Code)
            .FirstOrDefaultAsync();
        return running is null ? null : (running, stations.First(s => s.Id == running.Station));
    }
}
