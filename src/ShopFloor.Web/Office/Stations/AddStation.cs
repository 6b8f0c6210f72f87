using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Demo;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Live;

namespace ShopFloor.Web.Office.Stations;

/// <summary>A station that the workshop has besides those it has already.</summary>
/// <param name="Kind">What kind.</param>
/// <param name="Name">What people will call it.</param>
/// <param name="Wraps">True for a press that goes round a piece.</param>
public sealed record NewStation(StationKind Kind, string Name, bool Wraps = false);

/// <summary>
/// Adds a station with the numbers of the first of its kind. It is out of use until the owner has entered its own and says that it is in use:
/// no plan may count on sizes that nobody measured.
/// </summary>
public sealed class AddStation(CommandRunner runner) : IUseCase
{
    /// <summary>Adds it; its code.</summary>
    public Task<Result<string>> RunAsync(Asked asked, NewStation input, CancellationToken cancel = default) =>
        runner.RunAsync<NewStation, string>(
            nameof(AddStation),
            Allowed.Owner,
            asked,
            input,
            work => DecideAsync(work, input, cancel),
            cancel
        );

    private static async Task<Result<string>> DecideAsync(CommandWork work, NewStation input, CancellationToken cancel)
    {
        var all = await work.Context.Stations.AsNoTracking().ToListAsync(cancel);
        if (StationNames.Taken(all, input.Name, null) is { } taken)
            return taken;
        var settings = Like(all, input);
        var station = new Station(new StationId(Guid.CreateVersion7()), input.Kind, StationNames.Code(all, input.Kind), "", settings);
        var named = station.Change(input.Name, settings);
        if (!named.IsOk)
            return Result<string>.Refused(named.Refusals);
        station.Use(false);
        work.Context.Stations.Add(station);
        work.Audit("station added", station.Code, "", JsonSerializer.Serialize(settings, JsonForms.Default));
        work.Touch(Topic.Station, station.Id.Value);
        return station.Code;
    }

    // The numbers of the first of its kind that is there, else the shipped ones.
    private static StationSettings Like(List<Station> all, NewStation input)
    {
        bool Wraps(StationSettings settings) => settings is PressSettings { Wraps: true };
        var there = all.Where(s => s.Kind == input.Kind && Wraps(s.Settings) == input.Wraps).MinBy(s => s.Code, StringComparer.Ordinal);
        if (there is not null)
            return there.Settings;
        return input is { Kind: StationKind.Press, Wraps: true }
            ? ShippedDefaults.WrapPress()
            : ShippedDefaults.Stations().First(s => s.Kind == input.Kind).Settings;
    }
}

/// <summary>Names and codes of stations: plans, labels and calls tell them apart by these.</summary>
public static class StationNames
{
    /// <summary>A refusal when another station has this name already.</summary>
    public static Refusal? Taken(IEnumerable<Station> all, string name, StationId? except) =>
        all.Any(s => s.Id != except && string.Equals(s.Name, name.Trim(), StringComparison.OrdinalIgnoreCase))
            ? new Refusal("name-taken", "Another station has this name already.", "name")
            : null;

    /// <summary>Its kind in plain words.</summary>
    public static string Kind(StationKind kind, bool wraps) => kind == StationKind.Press && wraps ? "Wrap press" : kind.ToString();

    /// <summary>Its kind in plain words.</summary>
    public static string Kind(StationRow row) => Kind(row.Kind, row.Settings is PressSettings { Wraps: true });

    /// <summary>The first free code of the kind, such as <c>oven-2</c>.</summary>
    public static string Code(IReadOnlyCollection<Station> all, StationKind kind) =>
        Enumerable
            .Range(1, all.Count + 1)
            .Select(n => string.Create(CultureInfo.InvariantCulture, $"{kind.ToString().ToLowerInvariant()}-{n}"))
            .First(code => all.All(s => s.Code != code));
}
