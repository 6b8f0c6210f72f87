using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Film;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Calculators;

/// <summary>A number that the workshop measured itself, to take the place of a shipped one.</summary>
public abstract record Measured;

/// <summary>Solids, transfer and film of one coating, by weighing.</summary>
public sealed record MeasuredFilm(CalibratedFilm Film) : Measured;

/// <summary>How strongly one oven heats, W/(m²·K), by two readings of a block.</summary>
public sealed record MeasuredOven(decimal HeatTransfer) : Measured;

/// <summary>What the owner keeps.</summary>
/// <param name="For">The coating or the oven that was measured.</param>
/// <param name="SeenVersion">Its version when the page showed it.</param>
/// <param name="Film">What a weighing found; null: it was an oven.</param>
/// <param name="HeatTransfer">What the readings found, W/(m²·K); null: it was a coating.</param>
public sealed record KeepInput(Guid For, int SeenVersion, CalibratedFilm? Film, decimal? HeatTransfer);

/// <summary>Keeps a measured number as the workshop's own: prices, plans and cautions use it from then on.</summary>
public sealed class KeepMeasured(CommandRunner runner) : IUseCase
{
    /// <summary>Keeps it.</summary>
    public Task<Result<Done>> RunAsync(Asked asked, KeepInput input, CancellationToken cancel = default) =>
        runner.RunAsync<KeepInput, Done>(
            nameof(KeepMeasured),
            Allowed.Owner,
            asked,
            input,
            work => input.Film is { } film ? CoatingAsync(work, input, film, cancel) : OvenAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<Done>> CoatingAsync(CommandWork work, KeepInput input, CalibratedFilm film, CancellationToken cancel)
    {
        var id = new CoatingId(input.For);
        var coating = await work.Context.Coatings.FirstOrDefaultAsync(c => c.Id == id, cancel);
        if (coating is null)
            return new Refusal("coating-missing", "This coating is no longer there.", "for");
        if (CommandWork.IfChanged(input.SeenVersion, coating.Version, coating.Name) is { } changed)
            return changed;
        var before = coating.Settings;
        var done = coating.Change(coating.Name, before.With(film));
        if (!done.IsOk)
            return done;
        work.Audit(
            "coating weighed",
            coating.Code,
            JsonSerializer.Serialize(before, JsonForms.Default),
            JsonSerializer.Serialize(coating.Settings, JsonForms.Default)
        );
        work.Touch(Topic.Stock, coating.Id.Value);
        return done;
    }

    private static async Task<Result<Done>> OvenAsync(CommandWork work, KeepInput input, CancellationToken cancel)
    {
        var id = new StationId(input.For);
        var station = await work.Context.Stations.FirstOrDefaultAsync(s => s.Id == id, cancel);
        if (station?.Settings is not OvenSettings before || input.HeatTransfer is not { } found)
            return new Refusal("oven-missing", "This oven is no longer there.", "for");
        if (CommandWork.IfChanged(input.SeenVersion, station.Version, station.Name) is { } changed)
            return changed;
        var done = station.Change(station.Name, before with { HeatTransfer = Math.Round(found, 1, MidpointRounding.AwayFromZero) });
        if (!done.IsOk)
            return done;
        work.Audit(
            "oven measured",
            station.Code,
            JsonSerializer.Serialize<StationSettings>(before, JsonForms.Default),
            JsonSerializer.Serialize(station.Settings, JsonForms.Default)
        );
        work.Touch(Topic.Station, station.Id.Value);
        return done;
    }
}

/// <summary>What a measured number may be kept for.</summary>
/// <param name="Id">Coating or oven.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Now">What stands there now, in words.</param>
/// <param name="Version">Counts changes.</param>
public sealed record KeepTarget(Guid Id, string Name, string Now, int Version);

/// <summary>The coatings or ovens that a measured number may be kept for.</summary>
public sealed class KeepTargetsView(IDbContextFactory<ShopContext> contexts) : IPageView
{
    /// <summary>By code; only what is in use.</summary>
    public async Task<IReadOnlyList<KeepTarget>> LoadAsync(Measured measured, CancellationToken cancel = default)
    {
        await using var context = await contexts.CreateDbContextAsync(cancel);
        if (measured is MeasuredFilm)
        {
            var coatings = await context.Coatings.AsNoTracking().OrderBy(c => c.Code).ToListAsync(cancel);
            return [.. coatings.Select(c => new KeepTarget(c.Id.Value, c.Name, Words(c.Settings), c.Version))];
        }
        var stations = await context
            .Stations.AsNoTracking()
            .Where(s => s.IsActive && s.Kind == StationKind.Oven)
            .OrderBy(s => s.Code)
            .ToListAsync(cancel);
        return
        [
            .. stations.Select(s => new KeepTarget(
                s.Id.Value,
                s.Name,
                $"{((OvenSettings)s.Settings).HeatTransfer:0.#} W/(m²·K)",
                s.Version
            )),
        ];
    }

    private static string Words(Domain.Stock.CoatingSettings s) =>
        $"{s.VolumeSolidsPercent:0.##} %, {s.TransferEfficiency * 100:0.#} %, {s.DryFilmMicrometres:0.#} µm";
}
