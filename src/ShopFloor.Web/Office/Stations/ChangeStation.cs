using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stations;

/// <summary>What the owner entered for a station.</summary>
/// <param name="Id">Which.</param>
/// <param name="SeenVersion">The version the page showed.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Settings">All of them.</param>
/// <param name="DownUntil">Cannot be used until then; null: usable.</param>
/// <param name="InUse">False: taken out of use.</param>
public sealed record StationInput(
    StationId Id,
    int SeenVersion,
    string Name,
    StationSettings Settings,
    DateTimeOffset? DownUntil,
    bool InUse
);

/// <summary>Changes a station; what was before is kept in the audit list.</summary>
public sealed class ChangeStation(CommandRunner runner) : IUseCase
{
    /// <summary>Changes it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, StationInput input, CancellationToken cancel = default) =>
        runner.RunAsync<StationInput, Done>(
            nameof(ChangeStation),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> DecideAsync(CommandWork work, StationInput input, CancellationToken cancel)
    {
        var station = await work.Context.Stations.FirstOrDefaultAsync(s => s.Id == input.Id, cancel);
        if (station is null)
            return new Refusal("station-missing", "This station is no longer there.");
        if (CommandWork.IfChanged(input.SeenVersion, station.Version, station.Name) is { } changed)
            return changed;
        if (StationNames.Taken(await work.Context.Stations.AsNoTracking().ToListAsync(cancel), input.Name, input.Id) is { } taken)
            return taken;
        var before = JsonSerializer.Serialize(station.Settings, JsonForms.Default);
        var done = station.Change(input.Name, input.Settings);
        if (!done.IsOk)
            return done;
        station.TakeDown(input.DownUntil > work.Now ? input.DownUntil : null);
        station.Use(input.InUse);
        work.Audit("station changed", station.Code, before, JsonSerializer.Serialize(station.Settings, JsonForms.Default));
        work.Touch(Topic.Station, station.Id.Value);
        return default(Done);
    }
}

/// <summary>A station as the Office shows it.</summary>
public sealed record StationRow(
    StationId Id,
    StationKind Kind,
    string Code,
    string Name,
    StationSettings Settings,
    DateTimeOffset? DownUntil,
    bool InUse,
    int Version
);

/// <summary>A load or session that runs in a station.</summary>
/// <param name="Code">What people call it, e.g. <c>L-31</c>.</param>
/// <param name="Pieces">How many pieces are in it.</param>
public sealed record InsideRow(string Code, int Pieces);

/// <summary>All stations.</summary>
public sealed class StationListView(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>By code.</summary>
    public async Task<IReadOnlyList<StationRow>> LoadAsync(CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        return await context
            .Stations.AsNoTracking()
            .OrderBy(s => s.Code)
            .Select(s => new StationRow(s.Id, s.Kind, s.Code, s.Name, s.Settings, s.DownUntil, s.IsActive, s.Version))
            .ToListAsync(cancel);
    }

    /// <summary>What runs in a station now: somebody has to see to it when the station breaks.</summary>
    public async Task<IReadOnlyList<InsideRow>> InsideAsync(StationId station, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        var running = await context
            .Batches.AsNoTracking()
            .Where(b => b.Station == station && b.State == BatchState.Running)
            .OrderBy(b => b.Code)
            .ToListAsync(cancel);
        return [.. running.Select(b => new InsideRow(b.Code, b.Places.Count))];
    }
}
