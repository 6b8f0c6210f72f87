using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Writes a placed line-up down as a plan.</summary>
internal sealed class LineUpWriter
{
    private readonly LineUpShop at;
    private readonly Shop shop;
    private readonly LineUp line;
    private readonly LineUpTimes times;
    private readonly Plan plan;
    private readonly List<PlanTask> tasks = [];
    private readonly List<Batch> batches = [];
    private readonly bool[] nobody;

    private LineUpWriter(LineUpShop at, LineUp line, LineUpTimes times, Plan plan) =>
        (this.at, shop, this.line, this.times, this.plan, nobody) = (at, at.Shop, line, times, plan, new bool[at.Shop.Pieces.Length]);

    /// <summary>The plan of a line-up as last placed.</summary>
    /// <param name="at">The day.</param>
    /// <param name="line">The line-up.</param>
    /// <param name="times">Its times.</param>
    /// <param name="plan">The plan that it was read from: what runs, what is left out and how it was searched is taken from there.</param>
    /// <param name="bounds">What no plan can go below, part by part.</param>
    /// <returns>The plan; null when benches have no place for all who work.</returns>
    public static Plan? Write(LineUpShop at, LineUp line, LineUpTimes times, Plan plan, PartBounds bounds) =>
        new LineUpWriter(at, line, times, plan).Write(bounds);

    private Plan? Write(PartBounds bounds)
    {
        WriteGiven();
        WriteRounds();
        WriteBatches(true);
        WriteBatches(false);
        WriteChanges();
        WriteRests();
        if (!WriteSteps())
            return null;
        return PlanMaker.Rewritten(at.Room, plan, tasks, batches, bounds);
    }

    /// <summary>What runs already, rests of it that end when the next step begins.</summary>
    private void WriteGiven()
    {
        var ids = shop.Running.Batches.Select(b => b.Batch.Id).ToHashSet(StringComparer.Ordinal);
        batches.AddRange(plan.Batches.Where(b => ids.Contains(b.Id)));
        foreach (var task in plan.Tasks.Where(t => t.StartS < 0 || (t.Batch is { } id && ids.Contains(id)) || IsRunning(t)))
            tasks.Add(
                task.Kind == TaskKinds.Rest && NodeAfter(task) is var n and >= 0 ? task with { EndS = times.Start[line.StartOp(n)] } : task
            );
    }

    private bool IsRunning(PlanTask task) =>
        Array.Exists(shop.Running.Tasks, r => (r.Station, r.StartS, r.Piece, r.Step) == (task.Station, task.StartS, task.Piece, task.Step));

    private int NodeAfter(PlanTask rest)
    {
        var p = Array.FindIndex(shop.Pieces, x => x.Id == rest.Piece);
        return at.IsPlanned[p] && shop.FirstNode[p] is var n and >= 0 && shop.Nodes[n].RestStep == rest.Step ? n : -1;
    }

    private string Name(string letter)
    {
        for (var i = batches.Count(b => b.Id.StartsWith(letter, StringComparison.Ordinal)) + 1; ; i++)
            if (string.Create(CultureInfo.InvariantCulture, $"{letter}{i}") is var id && !batches.Exists(b => b.Id == id))
                return id;
    }

    private string PersonOf(int op) => shop.People[line.Person[op]].Id;

    /// <summary>When the shake before a spray ends.</summary>
    private int ShakenAt(int n) => line.HasShake(n) ? times.End[at.ShakeOf(n)] : times.Start[n];

    /// <summary>Names the rounds by their start, which need not be their order in the line-up; each by its first spray.</summary>
    private Dictionary<int, string> NameRounds()
    {
        int ShakeStart(int n) => ShakenAt(n) - shop.Coatings[shop.Nodes[n].Coating].ShakeS;
        var named = new Dictionary<int, string>();
        var first = line.Sequence.Take(line.Count).Where(n => at.IsStep(n) && shop.Nodes[n].IsSpray && times.IsShaken[n]);
        foreach (var n in first.OrderBy(ShakeStart))
        {
            var (coating, id) = (shop.Nodes[n].Coating, Name("R"));
            batches.Add(new Batch(id, BatchKinds.Round) { Coating = shop.Coatings[coating].Id, Can = shop.Cans[coating][line.Can[n]].Id });
            named[n] = id;
        }
        return named;
    }

    private void WriteRounds()
    {
        var (named, ids) = (NameRounds(), new string[shop.Booths.Length]);
        for (var i = 0; i < line.Count; i++)
        {
            var n = line.Sequence[i];
            if (!at.IsStep(n) || !shop.Nodes[n].IsSpray)
                continue;
            var (node, booth) = (shop.Nodes[n], shop.Booths[line.Booth[n]].Id);
            var coating = shop.Coatings[node.Coating];
            if (times.IsShaken[n])
            {
                var (id, shaken) = (ids[line.Booth[n]] = named[n], ShakenAt(n));
                tasks.Add(new PlanTask(TaskKinds.Shake, booth, PersonOf(n), shaken - coating.ShakeS, shaken, Batch: id));
            }
            tasks.Add(
                new PlanTask(
                    TaskKinds.Spray,
                    booth,
                    PersonOf(n),
                    times.Start[n],
                    times.End[n],
                    shop.Pieces[node.Piece].Id,
                    node.StepNumber,
                    ids[line.Booth[n]]
                )
            );
        }
    }

    /// <summary>The batches of a station in order.</summary>
    private List<int> BatchesAt(int place) =>
        [
            .. Enumerable
                .Range(0, at.MostBatches)
                .Where(b => line.Batches[b] is { } batch && batch.Place == place)
                .OrderBy(b => times.Start[at.LoadOp(b)]),
        ];

    private void WriteBatches(bool loads)
    {
        var some = Enumerable.Range(0, at.MostBatches).Where(b => line.Batches[b] is { } batch && batch.IsLoad == loads);
        foreach (var b in some.OrderBy(b => times.Start[at.LoadOp(b)]).ThenBy(b => line.Batches[b]!.Place))
            WriteBatch(b, line.Batches[b]!, Name(loads ? "L" : "S"));
    }

    private void WriteBatch(int b, LineBatch batch, string id)
    {
        var (op, family, station) = (at.LoadOp(b), shop.Families[batch.Group.Family], shop.Heated[batch.Place].Station.Id);
        var made = new Batch(id, batch.IsLoad ? BatchKinds.Load : BatchKinds.Session)
        {
            TenthsC = family.TenthsC,
            Places = PlanMaker.Lay(shop, at.Room.Maker, batch.Place, batch.Group.Nodes, nobody, batch.IsLoad),
        };
        if (!batch.IsLoad)
        {
            batches.Add(made with { PressS = batch.DwellMin, Pressure = family.Pressure, LayUp = family.LayUp });
            tasks.Add(new PlanTask(TaskKinds.Press, station, PersonOf(op), times.Start[op], times.End[op], Batch: id));
            return;
        }
        batches.Add(made);
        tasks.Add(new PlanTask(TaskKinds.Load, station, PersonOf(op), times.Start[op], times.End[op], Batch: id));
        tasks.Add(new PlanTask(TaskKinds.Dwell, station, null, times.End[op], times.Start[op + 1], Batch: id));
        tasks.Add(new PlanTask(TaskKinds.Unload, station, PersonOf(op + 1), times.Start[op + 1], times.End[op + 1], Batch: id));
    }

    /// <summary>Changes of set points, each as late as can be.</summary>
    private void WriteChanges()
    {
        for (var h = 0; h < shop.Heated.Length; h++)
        {
            var held = at.HeatedFrom[h].TenthsC;
            foreach (var b in BatchesAt(h))
            {
                var (batch, start) = (line.Batches[b]!, times.Start[at.LoadOp(b)]);
                if (batch.TenthsC != held)
                    tasks.Add(
                        new PlanTask(
                            TaskKinds.SetPoint,
                            shop.Heated[h].Station.Id,
                            null,
                            start - shop.Heated[h].ChangeS(held, batch.TenthsC),
                            start,
                            FromTenthsC: held,
                            ToTenthsC: batch.TenthsC
                        )
                    );
                held = batch.TenthsC;
            }
        }
    }

    private bool WriteSteps()
    {
        var benches = new BenchPlaces(shop, tasks);
        var some = shop.Nodes.Where(n => at.IsPlanned[n.Piece] && !n.IsHeated && !n.IsSpray);
        foreach (var node in some.OrderBy(n => times.Start[n.Index]).ThenBy(n => n.Index))
        {
            var (n, piece) = (node.Index, shop.Pieces[node.Piece].Id);
            if (benches.For(node, times.Start[n], times.End[n]) is not { } bench)
                return false;
            tasks.Add(new PlanTask(TaskKinds.Of(node.Step.Kind), bench, PersonOf(n), times.Start[n], times.End[n], piece, node.StepNumber));
        }
        return true;
    }

    private void WriteRests()
    {
        foreach (var node in shop.Nodes.Where(n => at.IsPlanned[n.Piece] && n.RestStep > 0))
        {
            if (node.Before < 0 && shop.Running.Rest[node.Piece] is not null)
                continue;
            var (piece, rack) = (shop.Pieces[node.Piece].Id, shop.Racks[at.Starts.Rack[node.Index]].Id);
            var from = node.Before >= 0 ? times.End[line.EndOp(node.Before)] : EndOfGiven(node);
            tasks.Add(new PlanTask(TaskKinds.Rest, rack, null, from, times.Start[line.StartOp(node.Index)], piece, node.RestStep));
        }
    }

    private int EndOfGiven(Node node) => node.GivenBatch >= 0 ? at.BatchEnd[node.GivenBatch] : node.GivenEnd;
}
