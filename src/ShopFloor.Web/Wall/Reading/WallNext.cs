using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Stations;
using ShopFloor.Planning.Exchange;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Bench.Moves;
using ShopFloor.Web.Bench.Reading;
using ShopFloor.Web.Shared.Drawing;
using Batch = ShopFloor.Domain.Pieces.Batch;
using Station = ShopFloor.Domain.Stations.Station;

namespace ShopFloor.Web.Wall.Reading;

/// <summary>The next round, load and session: the one being put together at the Bench, or else the plan's.</summary>
internal sealed class WallNext(WorkNow now, DateTimeOffset at, IReadOnlyCollection<string> stations)
{
    internal NextBatch? Of(BatchKind kind)
    {
        var building = now.Work.Batches.FirstOrDefault(b =>
            b.State == BatchState.Building
            && b.Kind == kind
            && b.Places.Count > 0
            && WallTimers.IsShown(now.Work.Stations[b.Station].Code, stations)
        );
        return building is not null ? Built(building) : Planned(kind, (_, _) => true);
    }

    /// <summary>The plan's next at the stations where none is put together now, of pieces that lie in none.</summary>
    internal NextBatch? Proposed(BatchKind kind)
    {
        var built = now.Work.Batches.Where(b => b.State == BatchState.Building && b.Kind == kind && b.Places.Count > 0).ToList();
        var taken = built.Select(b => now.Work.Stations[b.Station].Code).ToHashSet(StringComparer.Ordinal);
        var lying = now.Work.Batched(built.Contains);
        var inside = now.Work.Pieces.Where(p => lying.Contains(p.Id)).Select(p => p.Code).ToHashSet(StringComparer.Ordinal);
        return Planned(kind, (station, codes) => !taken.Contains(station) && !codes.Any(inside.Contains));
    }

    private NextBatch Built(Batch batch)
    {
        var can = batch.Can is { } id ? now.Cans.GetValueOrDefault(id) : null;
        var sheet = BatchSheet.Of(now.Work, batch, can);
        var facts = string.Join(" · ", sheet.Settings.Where(s => s.Label != "True temperature").Select(s => s.Value));
        return new NextBatch(
            batch.Code,
            sheet.StationName,
            $"{sheet.StepWord}: {facts}",
            sheet.Members.Count,
            null,
            Filled(sheet.Surfaces),
            [],
            sheet.StationCode
        )
        {
            Kind = batch.Kind,
        };
    }

    private NextBatch? Planned(BatchKind kind, Func<string, IEnumerable<string>, bool> suits)
    {
        if (now.Plan is not { } plan)
            return null;
        var wanted = PlannedBatches.KindOf(kind);
        // What runs is no next one; what is to begin at the plan's first second is.
        var running = plan.Day.Running.Batches.Select(b => b.Id).ToHashSet(StringComparer.Ordinal);
        var next = plan
            .Plan.Batches.Where(b => b.Kind == wanted && !running.Contains(b.Id))
            .Select(b => (Batch: b, Tasks: plan.OfBatch[b.Id].OrderBy(t => t.StartS).ToList()))
            .Where(b => b.Tasks.Count > 0 && WallTimers.IsShown(b.Tasks[0].Station, stations))
            .Where(b => PlannedBatches.MembersOf(plan, b.Batch).Any(m => !IsOver(m.Code, m.Step)))
            .Where(b => suits(b.Tasks[0].Station, PlannedBatches.MembersOf(plan, b.Batch).Select(m => m.Code)))
            .OrderBy(b => b.Tasks[0].StartS)
            .FirstOrDefault();
        if (next.Batch is null)
            return null;
        var words = Words(plan, next.Batch, next.Tasks[0]) with { Kind = kind };
        return PlannedBatches.Waiting(now, plan).Contains(next.Batch.Id)
            ? words with
            {
                Facts = NextBatch.Waits,
                Ready = [],
                Resting = null,
                WaitsForPlan = true,
            }
            : words;
    }

    private NextBatch Words(ReadPlan plan, Planning.Exchange.Batch batch, PlanTask first)
    {
        var members = PlannedBatches.MembersOf(plan, batch).ToList();
        var station = now.Work.Stations.Values.FirstOrDefault(s => s.Code == first.Station);
        return new NextBatch(
            PlannedName.Of(batch.Id),
            station?.Name ?? first.Station,
            batch.Kind == BatchKinds.Round ? RoundFacts(plan, batch, members) : HeatFacts(plan, batch, station),
            members.Count,
            WallMoment.Of(plan.Instant(first.StartS), at, now.Work.Settings),
            batch.Kind == BatchKinds.Round || station is null ? [] : Surfaces(batch, station),
            [.. members.Where(m => IsUp(m.Code, m.Step)).Select(m => m.Code)],
            first.Station,
            batch.Id
        )
        {
            Resting = Resting(members),
        };
    }

    private StillResting? Resting(IEnumerable<(string Code, int Step)> members)
    {
        var rests = members
            .Where(m => IsUp(m.Code, m.Step))
            .Select(m => now.Work.Pieces.First(p => p.Code == m.Code).Items.FirstOrDefault(i => i.Number == m.Step - 1))
            .OfType<WorkItem>()
            .Where(i => i is { State: WorkState.Running, StartedAt: { } began } && began.AddSeconds(i.Settings.MinSeconds) > at)
            .ToList();
        if (rests.Count == 0)
            return null;
        var until = rests.Max(i => i.StartedAt!.Value.AddSeconds(i.Settings.MinSeconds));
        return new StillResting(
            rests.Count,
            WallMoment.Of(until, at, now.Work.Settings),
            rests.TrueForAll(i => i.Settings.CoolToCelsius is not null)
        );
    }

    private bool IsUp(string code, int step) =>
        now.Work.Pieces.FirstOrDefault(p => p.Code == code) is { NextAttended: { State: not WorkState.Running } next } piece
        && next.Number == step
        && piece.State.IsUp();

    private bool IsOver(string code, int step) =>
        now.Work.Pieces.FirstOrDefault(p => p.Code == code) is not { } piece
        || piece.Items.Any(i => i.Number == step && (i.IsClosed || i.State == WorkState.Running));

    private string RoundFacts(ReadPlan plan, Planning.Exchange.Batch batch, List<(string Code, int Step)> members)
    {
        var ul = members.Sum(m => plan.Day.Pieces.FirstOrDefault(p => p.Id == m.Code)?.Route[m.Step - 1].Ul ?? 0);
        var shake = plan.Day.Coatings.FirstOrDefault(c => c.Id == batch.Coating)?.ShakeS ?? 0;
        return FormattableString.Invariant($"{now.Names.Name(batch.Coating ?? "")} · {ul / 1000.0:0} ml · shake {shake} s · {batch.Can}");
    }

    private static string HeatFacts(ReadPlan plan, Planning.Exchange.Batch batch, Station? station)
    {
        var error = station?.Settings switch
        {
            OvenSettings oven => oven.ErrorCelsius,
            PressSettings press => press.ErrorCelsius,
            _ => 0,
        };
        var dwell =
            batch.PressS
            ?? plan.OfBatch[batch.Id].Where(t => t.Kind == TaskKinds.Dwell).Select(t => t.EndS - t.StartS).FirstOrDefault()
            ?? 0;
        return FormattableString.Invariant($"dial {(batch.TenthsC ?? 0) / 10m + error:0.#} °C · {StepWords.Span(dwell)}")
            + (batch.Pressure is { } p ? $" · {p}" : "");
    }

    private IReadOnlyList<SurfaceSheet> Surfaces(Planning.Exchange.Batch batch, Station station)
    {
        (double Width, double Depth)[] sizes = station.Settings switch
        {
            OvenSettings oven => [.. oven.Shelves.Select(s => ((double)s.Width.Millimetres, (double)s.Depth.Millimetres))],
            PressSettings { Wraps: false } press => [((double)press.Width.Millimetres, (double)press.Depth.Millimetres)],
            _ => [],
        };
        var surfaces = sizes.Select(
            (size, i) =>
                new SurfaceSheet(
                    sizes.Length > 1 ? $"shelf {i + 1}" : station.Name,
                    size.Width,
                    size.Depth,
                    [.. batch.Places.Where(p => (p.Shelf ?? 1) == i + 1).Select(p => Place(p, size.Depth)).OfType<LayoutPlace>()]
                )
        );
        return Filled([.. surfaces]);
    }

    private LayoutPlace? Place(Planning.Exchange.Place place, double depth)
    {
        if (now.Work.Pieces.FirstOrDefault(p => p.Code == place.Piece) is not { } piece)
            return null;
        var it = now.Work.LineOf(piece).Piece;
        var (w, d) = ((double)it.Room.Width.Millimetres, (double)it.Room.Depth.Millimetres);
        if (place.Turned)
            (w, d) = (d, w);
        return new LayoutPlace(
            piece.Code,
            place.XUm / 1000.0,
            depth - place.YUm / 1000.0 - d,
            w,
            d,
            BatchSheet.OutlineOf(it),
            place.Turned
        );
    }

    private static IReadOnlyList<SurfaceSheet> Filled(IReadOnlyList<SurfaceSheet> surfaces) => [.. surfaces.Where(s => s.Places.Count > 0)];
}
