using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using Plan = ShopFloor.Planning.Exchange;

namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// What runs at the snapshot's instant, in the planner's terms: rests, oven loads, press sessions. Work by hand that was just begun counts as
/// not begun: it is over in a minute, and the next snapshot has it done.
/// </summary>
public static class DayRunning
{
    /// <summary>All of it.</summary>
    public static Plan.Running Of(ShopSnapshot shop)
    {
        var tasks = new List<Plan.PlanTask>();
        var batches = new List<Plan.Batch>();
        Rests(shop, tasks);
        foreach (var station in shop.Stations.Where(s => s.Kind is StationKind.Oven or StationKind.Press))
            Heated(shop, station, tasks, batches);
        return new Plan.Running(
            [.. tasks.OrderBy(t => t.StartS).ThenBy(t => t.Station, StringComparer.Ordinal).ThenBy(t => t.Piece, StringComparer.Ordinal)],
            batches
        );
    }

    /// <summary>
    /// When a step that runs began for the plan. The Bench's clock of a load starts when the door is shut, so loading is over at once; a second stands
    /// for it.
    /// </summary>
    internal static int Begun(WorkItem running, ShopSnapshot shop) =>
        Math.Min(running.Kind.InOven() ? -1 : 0, shop.Seconds(running.StartedAt ?? shop.Now));

    /// <summary>A step that runs in an oven that was found too cold, with the time from its beginning until its load may come out; any other as it is.</summary>
    /// <param name="item">The step at the Bench.</param>
    /// <param name="step">The same for the plan.</param>
    /// <param name="shop">Knows its load.</param>
    internal static Plan.Step Lengthened(WorkItem item, Plan.Step step, ShopSnapshot shop)
    {
        if (item is not { State: WorkState.Running, Batch: { } id } || !shop.Batches.TryGetValue(id, out var batch))
            return step;
        if (batch is not { Settings.CountsFrom: not null, StartedAt: { } began, MayEndAt: { } end })
            return step;
        var least = Math.Max(step.MinS, (int)Math.Ceiling((end - began).TotalSeconds));
        return step with { MinS = least, MaxS = step.MaxS is { } most ? Math.Max(most, least) : null };
    }

    private static void Rests(ShopSnapshot shop, List<Plan.PlanTask> tasks)
    {
        var resting = new List<(Piece Piece, WorkItem Step)>();
        foreach (var piece in shop.Pieces)
            if (
                piece.Current is { Kind: StepKind.Rest, State: WorkState.Running } rest
                || (rest = PastWork.Of(piece, shop).EndedRest) is not null
            )
                resting.Add((piece, rest));
        var racks = RestRacks.Of(resting, shop);
        foreach (var (piece, rest) in resting)
            if (racks.TryGetValue(piece.Id, out var rack))
                tasks.Add(new Plan.PlanTask(Plan.TaskKinds.Rest, rack, null, Begun(rest, shop), null, piece.Code, rest.Number));
    }

    private static void Heated(ShopSnapshot shop, Station station, List<Plan.PlanTask> tasks, List<Plan.Batch> batches)
    {
        var oven = station.Kind == StationKind.Oven;
        var members = Members(shop, station);
        if (members.Count == 0)
            return;
        var batch = members
            .Select(m => m.Item.Batch)
            .Where(b => b is not null && shop.Batches.ContainsKey(b.Value))
            .Select(b => shop.Batches[b!.Value])
            .FirstOrDefault();
        var id = batch?.Code ?? $"{(oven ? "L" : "S")}-{members[0].Piece.Code}";
        var begun = members.Max(m => Begun(m.Item, shop));
        var settings = members[0].Item.Settings;
        var celsius = batch?.Settings.Celsius ?? settings.Celsius ?? 160;
        var person = Hands(shop, station.Kind, members[0].Piece);
        var places = members.Select(m => Place(m.Piece, m.Item.Number, batch, station)).ToList();
        if (oven)
        {
            tasks.Add(new Plan.PlanTask(Plan.TaskKinds.Load, station.Code, person, begun, begun + 1, Batch: id));
            tasks.Add(new Plan.PlanTask(Plan.TaskKinds.Dwell, station.Code, null, begun + 1, null, Batch: id));
            batches.Add(new Plan.Batch(id, Plan.BatchKinds.Load) { TenthsC = DayStations.Tenths(celsius), Places = places });
            return;
        }
        var seconds = batch?.Settings.MinSeconds is > 0 and var min ? min : Math.Max(1, settings.MinSeconds);
        var press = (PressSettings)station.Settings;
        var length = press.LayUpSeconds + members.Count * press.LayUpEachSeconds + seconds;
        tasks.Add(new Plan.PlanTask(Plan.TaskKinds.Press, station.Code, person, begun, Math.Max(1, begun + length), Batch: id));
        batches.Add(
            new Plan.Batch(id, Plan.BatchKinds.Session)
            {
                TenthsC = DayStations.Tenths(celsius),
                PressS = seconds,
                Pressure = batch?.Settings.Pressure ?? settings.Pressure ?? "medium",
                LayUp = batch?.Settings.LayUp ?? settings.LayUp ?? "print above",
                Places = places,
            }
        );
    }

    /// <summary>What runs in an oven or a press and goes on from there by the plan.</summary>
    internal static IReadOnlyList<(Piece Piece, WorkItem Item)> Members(ShopSnapshot shop, Station station) =>
        [
            .. shop
                .Pieces.Select(p => (Piece: p, Item: p.Current!))
                .Where(m =>
                    m.Item.State == WorkState.Running
                    && (station.Kind == StationKind.Oven ? m.Item.Kind.InOven() : m.Item.Kind == StepKind.Press)
                )
                .Where(m => (m.Item.Station ?? First(shop, station.Kind)) == station.Id),
        ];

    // The plan wants somebody who may do it: the one who started it, else anybody.
    private static string? Hands(ShopSnapshot shop, StationKind kind, Piece first)
    {
        var able = shop.People.Where(p => p.Can.Contains(kind)).ToList();
        var starter = shop.Starters.GetValueOrDefault(first.Id)?.Person;
        return (able.Find(p => p.Code == starter) ?? able.FirstOrDefault())?.Code;
    }

    private static StationId? First(ShopSnapshot shop, StationKind kind) => shop.Stations.FirstOrDefault(s => s.Kind == kind)?.Id;

    // An oven that has fewer shelves now than when the load went in has it on its last one.
    private static Plan.Place Place(Piece piece, int step, Batch? batch, Station station)
    {
        var place = batch?.Places.FirstOrDefault(p => p.Piece == piece.Id);
        return new Plan.Place(
            piece.Code,
            step,
            station.Settings is OvenSettings oven ? Math.Clamp(place?.Shelf ?? 1, 1, Math.Max(1, oven.Shelves.Count)) : null,
            (int)(place?.XMicrometres ?? 0),
            (int)(place?.YMicrometres ?? 0),
            place?.Turned ?? false
        );
    }
}
