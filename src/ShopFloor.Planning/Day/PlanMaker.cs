using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Writes down as tasks and batches what a decoder has placed.</summary>
internal sealed partial class PlanMaker
{
    private readonly Shop shop;
    private readonly GroupMaker maker;
    private readonly Decoder decoder;
    private readonly List<PlanTask> tasks = [];
    private readonly List<Batch> batches = [];
    private readonly List<Why> why = [];
    private readonly Reasons reasons;
    private readonly HashSet<string> takenIds;
    private readonly Dictionary<(int Booth, int Round), string> roundIds = [];

    private PlanMaker(Shop shop, GroupMaker maker, Decoder decoder)
    {
        (this.shop, this.maker, this.decoder) = (shop, maker, decoder);
        reasons = new Reasons(shop, decoder);
        takenIds = shop.Running.Batches.Select(b => b.Batch.Id).ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>The plan of what the decoder holds; every failed piece has its reason in <paramref name="left"/>.</summary>
    public static Plan Make(Shop shop, GroupMaker maker, Decoder decoder, LeftOut?[] left, string sha, PartBounds bounds, SearchNote search)
    {
        var writer = new PlanMaker(shop, maker, decoder);
        writer.WriteRunning();
        writer.WriteRounds();
        writer.WritePlaced();
        writer.WriteNodes();
        writer.WriteChanges();
        return writer.Finish(left, sha, bounds, search);
    }

    private string Name(string letter)
    {
        for (var i = batches.Count(b => b.Id.StartsWith(letter, StringComparison.Ordinal)) + 1; ; i++)
        {
            var id = string.Create(CultureInfo.InvariantCulture, $"{letter}{i}");
            if (takenIds.Add(id))
                return id;
        }
    }

    private void WriteRunning()
    {
        foreach (var task in shop.Running.Tasks)
            tasks.Add(task.EndS is null ? task with { EndS = OpenEnd(task) } : task);
        for (var b = 0; b < shop.Running.Batches.Length; b++)
        {
            var given = shop.Running.Batches[b];
            batches.Add(given.Batch);
            if (!given.IsLoad || decoder.RunningPlaced[b] is not { } placed)
                continue;
            var station = shop.Heated[placed.Place].Station.Id;
            if (given.Dwell is null)
                tasks.Add(new PlanTask(TaskKinds.Dwell, station, null, placed.DwellStart, placed.UnloadStart, Batch: given.Batch.Id));
            if (given.Unload is null)
                tasks.Add(
                    new PlanTask(
                        TaskKinds.Unload,
                        station,
                        PersonId(placed.UnloadPerson),
                        placed.UnloadStart,
                        placed.End,
                        Batch: given.Batch.Id
                    )
                );
        }
    }

    private string? PersonId(int person) => person < 0 ? null : shop.People[person].Id;

    private int OpenEnd(PlanTask task)
    {
        if (task.Kind == TaskKinds.Dwell)
        {
            var b = Array.FindIndex(shop.Running.Batches, x => x.Batch.Id == task.Batch);
            return decoder.RunningPlaced[b]?.UnloadStart ?? 1;
        }
        var p = Array.FindIndex(shop.Pieces, x => x.Id == task.Piece);
        var first = shop.FirstNode[p];
        if (first >= 0 && !decoder.Failed[p])
            return decoder.Start[first];
        // Left out: the rest ends as soon as it may.
        var step = shop.Pieces[p].Route[(task.Step ?? 1) - 1];
        return Math.Clamp(task.StartS + Math.Max(1, step.MinS), 1, shop.Horizon);
    }

    private void WriteRounds()
    {
        var all = decoder
            .Rounds.SelectMany((list, booth) => list.Select((round, r) => (round, booth, r)))
            .OrderBy(x => x.round.ShakeStart)
            .ThenBy(x => x.booth);
        foreach (var (round, booth, r) in all)
        {
            if (round.Given >= 0)
            {
                roundIds[(booth, r)] = shop.Running.Batches[round.Given].Batch.Id;
                continue;
            }
            var (coating, id) = (shop.Coatings[round.Coating], Name("R"));
            roundIds[(booth, r)] = id;
            batches.Add(new Batch(id, BatchKinds.Round) { Coating = coating.Id, Can = shop.Cans[round.Coating][round.Can].Id });
            tasks.Add(
                new PlanTask(
                    TaskKinds.Shake,
                    shop.Booths[booth].Id,
                    PersonId(round.Person),
                    round.ShakeStart,
                    round.ShakeStart + coating.ShakeS,
                    Batch: id
                )
            );
        }
    }

    private void WritePlaced()
    {
        var placed = decoder.Placed.OrderBy(b => b.Start).ThenBy(b => b.Place).ToList();
        foreach (var load in placed.Where(b => shop.Heated[b.Place].IsOven))
            WriteLoad(load);
        foreach (var session in placed.Where(b => !shop.Heated[b.Place].IsOven))
            WriteSession(session);
    }

    private void WriteLoad(PlacedBatch load)
    {
        var (id, station) = (Name("L"), shop.Heated[load.Place].Station.Id);
        var family = shop.Families[decoder.Groups[load.Group].Family];
        batches.Add(new Batch(id, BatchKinds.Load) { TenthsC = family.TenthsC, Places = Lay(load, true) });
        why.Add(reasons.OfBatch(load, id));
        tasks.Add(new PlanTask(TaskKinds.Load, station, PersonId(load.LoadPerson), load.Start, load.DwellStart, Batch: id));
        tasks.Add(new PlanTask(TaskKinds.Dwell, station, null, load.DwellStart, load.UnloadStart, Batch: id));
        tasks.Add(new PlanTask(TaskKinds.Unload, station, PersonId(load.UnloadPerson), load.UnloadStart, load.End, Batch: id));
    }

    private void WriteSession(PlacedBatch session)
    {
        var (id, station) = (Name("S"), shop.Heated[session.Place].Station.Id);
        var family = shop.Families[decoder.Groups[session.Group].Family];
        batches.Add(
            new Batch(id, BatchKinds.Session)
            {
                TenthsC = family.TenthsC,
                PressS = session.End - session.DwellStart,
                Pressure = family.Pressure,
                LayUp = family.LayUp,
                Places = Lay(session, false),
            }
        );
        why.Add(reasons.OfBatch(session, id));
        tasks.Add(new PlanTask(TaskKinds.Press, station, PersonId(session.LoadPerson), session.Start, session.End, Batch: id));
    }

    private void WriteNodes()
    {
        foreach (var node in shop.Nodes)
        {
            if (decoder.Failed[node.Piece])
                continue;
            var (n, piece) = (node.Index, shop.Pieces[node.Piece].Id);
            if (!node.IsHeated)
                why.Add(reasons.OfNode(n));
            if (!node.IsHeated)
                tasks.Add(
                    new PlanTask(
                        TaskKinds.Of(node.Step.Kind),
                        decoder.StationName(n),
                        PersonId(decoder.PersonOf[n]),
                        decoder.Start[n],
                        decoder.End[n],
                        piece,
                        node.StepNumber,
                        node.IsSpray ? roundIds[(decoder.StationOf[n], decoder.RoundOf[n])] : null
                    )
                );
            if (Rests(node))
                why.Add(Reasons.OfRest(piece, node.RestStep));
            if (Rests(node))
                tasks.Add(
                    new PlanTask(
                        TaskKinds.Rest,
                        shop.Racks[decoder.RackBefore(node)].Id,
                        null,
                        decoder.EndBefore(n),
                        decoder.Start[n],
                        piece,
                        node.RestStep
                    )
                );
        }
    }

    /// <summary>Whether a planned rest comes before it; one that runs already is given.</summary>
    private bool Rests(Node node) => node.RestStep > 0 && !(node.Before < 0 && shop.Running.Rest[node.Piece] is not null);

    private void WriteChanges()
    {
        var given = shop.Running.Tasks.Where(t => t.Kind == TaskKinds.SetPoint).Select(t => (t.Station, t.StartS)).ToHashSet();
        for (var h = 0; h < shop.Heated.Length; h++)
        {
            var (line, station) = (decoder.Heated[h], shop.Heated[h].Station.Id);
            for (var i = 0; i < line.Count; i++)
                if (line.IsChange(i) && !given.Contains((station, line.StartAt(i))))
                    tasks.Add(
                        new PlanTask(
                            TaskKinds.SetPoint,
                            station,
                            null,
                            line.StartAt(i),
                            line.EndAt(i),
                            FromTenthsC: line.FromAt(i),
                            ToTenthsC: line.ToAt(i)
                        )
                    );
        }
    }

    private Plan Finish(LeftOut?[] left, string sha, PartBounds bounds, SearchNote search)
    {
        var sorted = Sorted(tasks);
        var out1 = left.OfType<LeftOut>().ToList();
        var objective = new ObjectiveSum(shop).Of(sorted, batches, out1.Count, Late(left), Changed(sorted), bounds);
        return new Plan(sha, sorted, batches, out1, PinCheck.Unmet(shop, decoder), objective, why, search, 0);
    }

    private static List<PlanTask> Sorted(List<PlanTask> tasks) =>
        [
            .. tasks
                .OrderBy(t => t.StartS)
                .ThenBy(t => t.EndS)
                .ThenBy(t => t.Station, StringComparer.Ordinal)
                .ThenBy(t => t.Piece, StringComparer.Ordinal)
                .ThenBy(t => t.Kind, StringComparer.Ordinal)
                .ThenBy(t => t.Step),
        ];

    private (long, int) Late(LeftOut?[] left)
    {
        var (seconds, pieces) = (0L, 0);
        for (var p = 0; p < left.Length; p++)
            if (left[p] is null && decoder.PieceEnd(p) - (long)shop.Pieces[p].PromiseS is var over and > 0)
            {
                seconds += over * shop.Pieces[p].Weight;
                pieces++;
            }
        return (seconds, pieces);
    }

    private long Changed(List<PlanTask> sorted)
    {
        if (shop.Day.Published is not { } published)
            return 0;
        var now = new Dictionary<(string, int), (int Start, string Station)>();
        foreach (var task in sorted)
            if (task is { Piece: { } piece, Step: { } step })
                now[(piece, step)] = (task.StartS, task.Station);
        foreach (var task in sorted.Where(t => t.Kind is TaskKinds.Load or TaskKinds.Press))
        foreach (var place in batches.Find(b => b.Id == task.Batch)!.Places)
            now[(place.Piece, place.Step)] = (task.StartS, task.Station);
        return published.Steps.Count(s =>
            s.StartS < published.NearS
            && now.TryGetValue((s.Piece, s.Step), out var at)
            && (at.Station != s.Station || Math.Abs((long)at.Start - s.StartS) > published.MovedS)
        );
    }
}
