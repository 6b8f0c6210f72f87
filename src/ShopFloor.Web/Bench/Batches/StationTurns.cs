using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Bench.Batches;

/// <summary>A station that a tap took down or brought back. It is kept with the tap's answer, so that the tap can be taken back.</summary>
/// <param name="Code">Code of the station.</param>
/// <param name="Before">Until when it could not be used before, UTC; null: it could.</param>
/// <param name="After">The same after the tap.</param>
public sealed record StationTurn(string Code, DateTimeOffset? Before, DateTimeOffset? After);

/// <summary>Brings a station back that was broken or away: from now on the plan works with it again.</summary>
public sealed class BringStationBack(CommandRunner runner) : IUseCase
{
    /// <summary>Brings it back.</summary>
    /// <param name="asked">Who asks.</param>
    /// <param name="code">Code of the station.</param>
    /// <param name="cancel">Ends the wait.</param>
    public Task<Result<Moved>> RunAsync(Asked asked, string code, CancellationToken cancel = default) =>
        runner.RunAsync<string, Moved>(
            nameof(BringStationBack),
            Allowed.Bench,
            asked,
            code,
            work => DecideAsync(work, code, cancel),
            cancel
        );

    private static async Task<Result<Moved>> DecideAsync(CommandWork work, string code, CancellationToken cancel)
    {
        if (await work.Context.Stations.FirstOrDefaultAsync(s => s.Code == code && s.IsActive, cancel) is not { } station)
            return new Refusal("station-missing", "This station is no longer there.");
        if (station.DownUntil is not { } until || until <= work.Now)
            return new Refusal("station-works", $"{station.Name} can be used already.");
        return new Moved($"{station.Name} works again.", []) { Station = StationTurns.Turn(work, station, null, "station works again") };
    }
}

/// <summary>Takes stations down and brings them back, by taps of the Bench.</summary>
internal static class StationTurns
{
    /// <summary>Down until then, or usable; the audit list has what was before.</summary>
    internal static StationTurn Turn(CommandWork work, Station station, DateTimeOffset? until, string what)
    {
        var turn = new StationTurn(station.Code, station.DownUntil, until);
        work.Audit(what, station.Code, $"{station.DownUntil:u}", $"{until:u}");
        station.TakeDown(until);
        work.Touch(Topic.Station, station.Id.Value);
        return turn;
    }

    /// <summary>Puts the station of a tap back to what it was before.</summary>
    /// <returns>The station; null when somebody has changed it since, and then it stays as it is.</returns>
    internal static async Task<Station?> TakeBackAsync(CommandWork work, StationTurn turn, CancellationToken cancel)
    {
        var station = await work.Context.Stations.FirstOrDefaultAsync(s => s.Code == turn.Code, cancel);
        if (station is null || station.DownUntil != turn.After)
            return null;
        Turn(work, station, turn.Before, "station taken back");
        return station;
    }
}
