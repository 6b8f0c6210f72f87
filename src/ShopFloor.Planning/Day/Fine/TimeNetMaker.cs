using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Makes the net of a finished plan: batches, stations and places stay, persons and times are open.</summary>
internal sealed class TimeNetMaker
{
    private readonly Shop shop;
    private readonly GroupMaker maker;
    private readonly Plan plan;
    private readonly HashSet<string> running;
    private readonly Dictionary<(string, int), int> nodeAt;
    private readonly Dictionary<string, Batch> batches;
    private readonly Dictionary<string, int> roundAt;
    private readonly List<Arc> arcs = [];
    private readonly int[] first;
    private readonly int[] last;

    private TimeNetMaker(Shop shop, GroupMaker maker, Plan plan)
    {
        (this.shop, this.maker, this.plan) = (shop, maker, plan);
        running = shop.Running.Batches.Select(b => b.Batch.Id).ToHashSet(StringComparer.Ordinal);
        nodeAt = shop.Nodes.ToDictionary(n => (shop.Pieces[n.Piece].Id, n.StepNumber), n => n.Index);
        batches = plan.Batches.ToDictionary(b => b.Id, StringComparer.Ordinal);
        roundAt = plan
            .Batches.Where(b => b.Kind == BatchKinds.Round)
            .Select((b, i) => (b.Id, i))
            .ToDictionary(x => x.Id, x => x.i, StringComparer.Ordinal);
        Source = [.. plan.Tasks.Where(t => t.Kind is not (TaskKinds.Rest or TaskKinds.Dwell or TaskKinds.SetPoint)).OrderBy(t => t.StartS)];
        (first, last) = (new int[shop.Nodes.Length], new int[shop.Nodes.Length]);
        Array.Fill(first, -1);
        Array.Fill(last, -1);
        ByBatch = Enumerable
            .Range(0, Source.Length)
            .Where(t => Source[t].Batch is not null)
            .ToLookup(t => Source[t].Batch!, StringComparer.Ordinal);
    }

    /// <summary>The net of a plan with the order that it has; null where times follow from more than this net knows: a booth that shares its
    /// air with an oven, or running work that no plan can mend.</summary>
    public static FineNet? Make(Shop shop, GroupMaker maker, Plan plan)
    {
        if (Array.Exists(shop.SharedOvens, o => o.Length > 0) || Array.Exists(shop.Nodes, n => n.MaxLag < 0))
            return null;
        return new TimeNetMaker(shop, maker, plan).Make();
    }

    private PlanTask[] Source { get; }

    private ILookup<string, int> ByBatch { get; }

    private FineNet Make()
    {
        FindNodes();
        var tasks = new NetTask[Source.Length];
        for (var t = 0; t < tasks.Length; t++)
            tasks[t] = Make(t);
        Tie();
        var net = new TimeNet(tasks, arcs, [.. shop.People.Select(Shifts)]);
        var (stations, since) = Stations();
        int[] person = [.. Source.Select(t => Array.FindIndex(shop.People, p => p.Id == t.Person))];
        var order = new TimeOrder(net, shop.Heated, [.. Enumerable.Range(0, tasks.Length)], person, stations, since);
        return new FineNet(net, order, Source, first, last);
    }

    private void FindNodes()
    {
        for (var t = 0; t < Source.Length; t++)
        {
            var task = Source[t];
            if (task.Piece is { } piece && nodeAt.TryGetValue((piece, task.Step!.Value), out var n))
                first[n] = last[n] = t;
            else if (task is { Batch: { } id, Piece: null })
                foreach (var place in batches[id].Places)
                    if (nodeAt.TryGetValue((place.Piece, place.Step), out var member))
                    {
                        if (task.Kind != TaskKinds.Unload)
                            first[member] = t;
                        if (task.Kind != TaskKinds.Load)
                            last[member] = t;
                    }
        }
    }

    private NetTask Make(int t)
    {
        var task = Source[t];
        var station = shop.Day.Stations.First(s => s.Id == task.Station);
        int[] nodes = [.. NodesOf(task)];
        var length = task.EndS!.Value - task.StartS;
        var isFixed =
            task.StartS < 0
            || (task.Batch is { } id && running.Contains(id))
            || shop.Running.Tasks.Any(r => r.Station == task.Station && r.StartS == task.StartS && r.Piece == task.Piece)
            || Array.Exists(nodes, n => shop.Nodes[n].PinnedAt == task.StartS);
        var latest = Math.Min(shop.Horizon, UseBy(task)) - length;
        var earliest = 0;
        foreach (var n in nodes)
        {
            var node = shop.Nodes[n];
            earliest = Math.Max(earliest, Math.Max(node.Ready, node.PinnedNotBefore <= task.StartS ? node.PinnedNotBefore : 0));
            if (node.Before < 0 && node.GivenEnd > int.MinValue)
            {
                earliest = Math.Max(earliest, node.GivenEnd + node.MinLag);
                latest = node.IsTight ? Math.Min(latest, node.GivenEnd + node.MaxLag) : latest;
            }
        }
        return new NetTask
        {
            Length = length,
            Earliest = isFixed ? task.StartS : earliest,
            Latest = latest,
            IsFixed = isFixed,
            Able = shop.PeopleFor[(int)station.Kind],
            Round = task.Batch is { } round ? roundAt.GetValueOrDefault(round, -1) : -1,
            Down = [.. station.Down.Select(d => (d.FromS, d.ToS))],
            Needs = task.Kind == TaskKinds.Load && !isFixed ? length + Dwell(task).Min + 1 : length,
            Heated = task.Kind is TaskKinds.Load or TaskKinds.Press ? Heated(task.Station) : -1,
        };
    }

    /// <summary>The steps that begin with a task: of a load its members' cures, of its unloading none.</summary>
    private IEnumerable<int> NodesOf(PlanTask task)
    {
        IEnumerable<(string, int)> steps =
            task.Piece is { } piece ? [(piece, task.Step!.Value)]
            : task.Kind is TaskKinds.Load or TaskKinds.Press ? batches[task.Batch!].Places.Select(p => (p.Piece, p.Step))
            : [];
        return steps.Where(nodeAt.ContainsKey).Select(s => nodeAt[s]);
    }

    private int UseBy(PlanTask task)
    {
        if (task.Kind != TaskKinds.Spray || batches[task.Batch!] is not { } round)
            return Line.Never;
        var coating = shop.Coatings.First(c => c.Id == round.Coating);
        return coating.Cans.First(c => c.Id == round.Can).UseByS ?? Line.Never;
    }

    private int Heated(string station) => Array.FindIndex(shop.Heated, h => h.Station.Id == station);

    private (int Min, int Max) Dwell(PlanTask load)
    {
        var group = maker.Make([.. NodesOf(load)])!;
        return (group.DwellMin[Array.IndexOf(group.Places, Heated(load.Station))], group.DwellMax);
    }

    private (int, int)[] Shifts(Person person)
    {
        bool Stays(Shift s) =>
            Array.Exists(Source, t => t.Person == person.Id && t.StartS >= s.FromS && t.StartS < s.ToS && t.EndS > s.NormalToS);
        return
        [
            .. person.Shifts.Select(s => (s.FromS, To: Math.Min(Stays(s) ? s.ToS : s.NormalToS, shop.Horizon))).Where(s => s.To > s.FromS),
        ];
    }

    private void Tie()
    {
        foreach (var node in shop.Nodes)
            if (first[node.Index] is var begin and >= 0)
            {
                if (node.Before >= 0)
                    Tie(last[node.Before], begin, node.MinLag, node.MaxLag);
                else if (node.GivenBatch >= 0)
                    Tie(EndOf(node.GivenBatch), begin, node.MinLag, node.MaxLag);
                if (node.Before < 0)
                    foreach (var other in shop.After[node.Piece])
                        Tie(LastOf(other), begin, 0, Line.Never);
            }
        for (var t = 0; t < Source.Length; t++)
            if (Source[t].Kind == TaskKinds.Load && !running.Contains(Source[t].Batch!))
            {
                var (min, max) = Dwell(Source[t]);
                Tie(t, ByBatch[Source[t].Batch!].First(u => Source[u].Kind == TaskKinds.Unload), min, max);
            }
    }

    private void Tie(int from, int to, int least, int most)
    {
        if (from < 0 || to < 0)
            return;
        var length = Source[from].EndS!.Value - Source[from].StartS;
        arcs.Add(new Arc(from, to, length + least));
        if (most < Line.Never)
            arcs.Add(new Arc(to, from, -(length + most)));
    }

    private int LastOf(int piece) => shop.LastNode[piece] is var n and >= 0 ? last[n] : EndOf(shop.Given[piece].Batch);

    private int EndOf(int runningBatch) =>
        runningBatch < 0 ? -1 : ByBatch[shop.Running.Batches[runningBatch].Batch.Id].DefaultIfEmpty(-1).Last();

    private (Unit[][], (int, int)[]) Stations()
    {
        var units = new List<Unit[]>();
        var since = new List<(int, int)>();
        foreach (var booth in shop.Booths)
        {
            units.Add([.. UnitsAt(booth.Id)]);
            since.Add((0, int.MinValue / 2));
        }
        foreach (var place in shop.Heated)
        {
            var change = shop.Running.Tasks.FirstOrDefault(t => t.Kind == TaskKinds.SetPoint && t.Station == place.Station.Id);
            units.Add([.. UnitsAt(place.Station.Id)]);
            since.Add(change is null ? (place.Station.Heat.NowTenthsC, 0) : (change.ToTenthsC!.Value, change.EndS!.Value));
        }
        return ([.. units], [.. since]);
    }

    private IEnumerable<Unit> UnitsAt(string station) =>
        Source
            .Where(t => t.Station == station && t.Batch is not null)
            .Select(t => t.Batch!)
            .Distinct()
            .Select(id => new Unit(
                [.. ByBatch[id]],
                batches[id].TenthsC ?? 0,
                batches[id].Coating is { } coating ? shop.Coatings.First(c => c.Id == coating).ShakeAgainAfterS : -1
            ));
}

/// <summary>A net with the order that its plan has.</summary>
/// <param name="Net">The net.</param>
/// <param name="Order">The plan's order.</param>
/// <param name="Source">The plan's task for each of the net.</param>
/// <param name="First">For each step of the shop the task that begins it, or -1.</param>
/// <param name="Last">For each step of the shop the task that ends it, or -1.</param>
internal sealed record FineNet(TimeNet Net, TimeOrder Order, PlanTask[] Source, int[] First, int[] Last);
