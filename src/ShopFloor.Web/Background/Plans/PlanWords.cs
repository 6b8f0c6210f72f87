using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Film;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Background.Plans;

/// <summary>What a plan names by code, in the words of the workshop.</summary>
/// <param name="names">What people call a station, a person or a coating, by its code.</param>
public sealed class PlanWords(IReadOnlyDictionary<string, string> names)
{
    /// <summary>With the names as they are now.</summary>
    public static async Task<PlanWords> LoadAsync(ShopContext context, CancellationToken cancel)
    {
        var stations = await context.Stations.AsNoTracking().Select(s => new { s.Code, s.Name }).ToListAsync(cancel);
        var people = await context.People.AsNoTracking().Select(p => new { p.Code, p.Name }).ToListAsync(cancel);
        var kept = await context.Coatings.AsNoTracking().ToListAsync(cancel);
        var coatings = kept.Select(c => new { c.Code, c.Name });
        return new PlanWords(
            stations.Concat(people).Concat(coatings).DistinctBy(n => n.Code).ToDictionary(n => n.Code, n => n.Name, StringComparer.Ordinal)
        )
        {
            Films = kept.ToDictionary(c => c.Code, c => c.Settings.AsFilm(), StringComparer.Ordinal),
        };
    }

    /// <summary>How each coating is sprayed, by its code.</summary>
    public IReadOnlyDictionary<string, FilmSettings> Films { get; init; } = new Dictionary<string, FilmSettings>();

    /// <summary>The name; the code where there is none.</summary>
    public string Name(string code) => names.GetValueOrDefault(code, code);

    /// <summary>A step, e.g. <c>Spray white base</c>.</summary>
    /// <param name="route">The piece's steps.</param>
    /// <param name="step">Which, from 1.</param>
    public string Step(IReadOnlyList<Step> route, int step)
    {
        var it = route[step - 1];
        return it.Kind switch
        {
            StepKind.Wipe => "Wipe promoter",
            StepKind.Spray => $"Spray {Name(it.Coating).ToLowerInvariant()}",
            StepKind.Rest => Hot(route, step) ? "Cool" : "Flash-off",
            StepKind.Tape => "Tape the print",
            _ => it.Kind.ToString(),
        };
    }

    /// <summary>A task, e.g. <c>Spray white base, K3F7QX</c> or <c>Put load B in</c>.</summary>
    public string Task(Day day, PlanTask task)
    {
        if (
            task is { Piece: { } id, Step: { } step }
            && day.Pieces.FirstOrDefault(p => p.Id == id) is { } piece
            && step <= piece.Route.Count
        )
            return $"{Step(piece.Route, step)}, {id}";
        var batch = task.Batch is { } it ? PlannedName.Of(it) : "";
        return task.Kind switch
        {
            TaskKinds.SetPoint => $"To {Dial(day, task.Station, task.ToTenthsC ?? 0)} on the dial",
            TaskKinds.Shake => $"Shake for round {batch}",
            TaskKinds.Load => $"Put load {batch} in",
            TaskKinds.Dwell => $"Load {batch} in the oven",
            TaskKinds.Unload => $"Take load {batch} out",
            TaskKinds.Press => $"Press session {batch}",
            _ => task.Kind,
        };
    }

    /// <summary>What is done, in one or two words of the workshop: a plan's name for what a station does by itself is none.</summary>
    public static string Verb(string kind) =>
        kind switch
        {
            TaskKinds.Dwell => "bake",
            TaskKinds.SetPoint => "set the dial",
            _ => kind,
        };

    /// <summary>What the dial of an oven or press must show for a temperature: its error is in it.</summary>
    /// <param name="day">The day that was planned.</param>
    /// <param name="station">The station's code.</param>
    /// <param name="tenths">The true temperature, tenths of a degree.</param>
    public static string Dial(Day day, string station, int tenths)
    {
        var error = day.Stations.OfType<HeatedStation>().FirstOrDefault(s => s.Id == station)?.Heat.ErrorTenthsC ?? 0;
        // Room temperature is no setting: it is switched off.
        return Degrees(tenths == day.RoomTenthsC ? tenths : tenths + error);
    }

    /// <summary>A temperature in words.</summary>
    public static string Degrees(int tenths) => string.Create(CultureInfo.InvariantCulture, $"{tenths / 10m:0.#} °C");

    /// <summary>How many pieces.</summary>
    public static string Pieces(int count) => StepWords.Pieces(count);

    /// <summary>How long, as people say it: to the minute.</summary>
    public static string Long(long seconds)
    {
        var minutes = (Math.Abs(seconds) + 30) / 60;
        return minutes switch
        {
            < 60 => $"{minutes} min",
            < 2_880 when minutes % 60 == 0 => $"{minutes / 60} h",
            < 2_880 => $"{minutes / 60} h {minutes % 60} min",
            _ => $"{minutes / 1_440} days",
        };
    }

    private static bool Hot(IReadOnlyList<Step> route, int step) =>
        step > 1 && route[step - 2].Station is StationKind.Oven or StationKind.Press;
}
