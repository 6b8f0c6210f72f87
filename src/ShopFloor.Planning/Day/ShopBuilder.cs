using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Turns a day into what the search works on.</summary>
internal sealed class ShopBuilder
{
    private readonly Day day;
    private readonly Piece[] pieces;
    private readonly Dictionary<string, int> pieceAt;
    private readonly List<Node> nodes = [];
    private readonly List<(int, int)> givenOf = [];
    private readonly List<Family> families = [];
    private readonly Dictionary<Family, int> familyAt = [];
    private readonly Coating[] coatings;
    private readonly Dictionary<string, int> coatingAt;
    private readonly HeatedPlace[] heated;
    private readonly ILookup<string, PlanTask> runningByPiece;
    private readonly Dictionary<(string, int), int> runningBatchOf = [];
    private readonly Batch[] runningBatches;

    private ShopBuilder(Day day)
    {
        this.day = day;
        pieces = [.. day.Pieces.OrderBy(p => p.Id, StringComparer.Ordinal)];
        pieceAt = Positions(pieces, p => p.Id);
        coatings = [.. day.Coatings.Concat(Missing()).OrderBy(c => c.Id, StringComparer.Ordinal)];
        coatingAt = Positions(coatings, c => c.Id);
        heated =
        [
            .. Sorted<Oven>()
                .Select(o => new HeatedPlace
                {
                    Station = o,
                    Oven = o,
                    IsOven = true,
                }),
            .. Sorted<Press>()
                .Select(p => new HeatedPlace
                {
                    Station = p,
                    Press = p,
                    IsOven = false,
                }),
        ];
        runningByPiece = day.Running.Tasks.Where(t => t.Piece is not null).ToLookup(t => t.Piece!, StringComparer.Ordinal);
        runningBatches = [.. day.Running.Batches.OrderBy(b => b.Id, StringComparer.Ordinal)];
        for (var b = 0; b < runningBatches.Length; b++)
            foreach (var place in runningBatches[b].Places)
                runningBatchOf[(place.Piece, place.Step)] = b;
    }

    public static Shop Build(Day day) => new ShopBuilder(day).Build();

    /// <summary>Coatings that a route asks for and the day does not have are coatings without a can, so that such a piece is left out.</summary>
    private IEnumerable<Coating> Missing() =>
        pieces
            .SelectMany(p => p.Route)
            .Where(s => s.Kind == StepKind.Spray)
            .Select(s => s.Coating)
            .Except(day.Coatings.Select(c => c.Id), StringComparer.Ordinal)
            .Select(id => new Coating(id, 0, 0, []));

    private T[] Sorted<T>()
        where T : Station => [.. day.Stations.OfType<T>().OrderBy(s => s.Id, StringComparer.Ordinal)];

    private static Dictionary<string, int> Positions<T>(T[] items, Func<T, string> id) =>
        items.Select((item, at) => (Id: id(item), At: at)).ToDictionary(x => x.Id, x => x.At, StringComparer.Ordinal);

    private Shop Build()
    {
        var people = day.People.OrderBy(p => p.Id, StringComparer.Ordinal).ToArray();
        var (first, last) = (new int[pieces.Length], new int[pieces.Length]);
        var booths = Sorted<Booth>();
        for (var p = 0; p < pieces.Length; p++)
            (first[p], last[p]) = AddNodes(p);
        var racks = Sorted<Rack>();
        return new Shop
        {
            Day = day,
            People = people,
            PeopleFor =
            [
                .. Enum.GetValues<StationKind>()
                    .Select(kind => Enumerable.Range(0, people.Length).Where(p => people[p].Can.Contains(kind)).ToArray()),
            ],
            Benches = Sorted<Bench>(),
            Booths = booths,
            Racks = racks,
            Heated = heated,
            Coatings = coatings,
            Cans =
            [
                .. coatings.Select(c => c.Cans.OrderBy(x => x.UseByS ?? int.MaxValue).ThenBy(x => x.Id, StringComparer.Ordinal).ToArray()),
            ],
            Pieces = pieces,
            Nodes = [.. nodes],
            FirstNode = first,
            LastNode = last,
            Given = [.. givenOf],
            After = [.. pieces.Select(p => p.After.Distinct(StringComparer.Ordinal).Select(a => pieceAt[a]).ToArray())],
            Families = [.. families],
            SharedOvens = [.. booths.Select(b => b.SharesAirWith.Select(OvenAt).Where(o => o >= 0).Distinct().ToArray())],
            AmpleRack = Array.FindIndex(racks, IsAmple),
            Running = BuildRunning(),
            Published = BuildPublished(int.MaxValue),
            PublishedNear = BuildPublished(day.Published?.NearS ?? 0),
        };
    }

    private int OvenAt(string id) => Array.FindIndex(heated, h => h.IsOven && h.Station.Id == id);

    private bool IsAmple(Rack rack) =>
        rack.Down.Count == 0
        && !nodes.Exists(n => n.PinnedRack >= 0)
        && pieces.Sum(p => (p.WidthUm + (long)rack.GapUm) * (p.DepthUm + (long)rack.GapUm)) <= rack.AreaUm2
        && day.Running.Tasks.All(t => t.Kind != TaskKinds.Rest || t.Station == rack.Id);

    private (int First, int Last) AddNodes(int p)
    {
        var piece = pieces[p];
        var (first, before, rest) = (-1, -1, 0);
        var given = Given(piece, out var from, out var batch, out var runningRest);
        givenOf.Add((given, batch));
        if (runningRest is not null)
            rest = from;
        for (var k = from + 1; k <= piece.Route.Count; k++)
        {
            var step = piece.Route[k - 1];
            if (step.Kind == StepKind.Rest)
            {
                if (before >= 0)
                    nodes[before].RestAfter = true;
                rest = k;
                continue;
            }
            var node = MakeNode(p, k, step, before, rest, given, batch, runningRest);
            if (before >= 0)
                nodes[before].Next = node.Index;
            else
                first = node.Index;
            nodes.Add(node);
            (before, rest, given, batch, runningRest) = (node.Index, 0, int.MinValue, -1, null);
        }
        return (first, before);
    }

    /// <summary>What the piece's next step follows: the last done step, a running task or a running batch.</summary>
    private int Given(Piece piece, out int done, out int batch, out PlanTask? rest)
    {
        done = piece.Done;
        batch = -1;
        rest = null;
        var end = piece.LastEndS ?? int.MinValue;
        while (done < piece.Route.Count)
        {
            var next = done + 1;
            var task = runningByPiece[piece.Id].FirstOrDefault(t => t.Step == next);
            if (task?.Kind == TaskKinds.Rest)
            {
                rest = task;
                end = task.StartS;
            }
            else if (task is not null)
                end = task.EndS ?? 0;
            else if (runningBatchOf.TryGetValue((piece.Id, next), out var b))
                (batch, end) = (b, int.MinValue);
            else
                break;
            done = next;
            if (rest is not null)
                break;
        }
        return end;
    }

    private Node MakeNode(int p, int k, Step step, int before, int rest, int given, int batch, PlanTask? runningRest)
    {
        var piece = pieces[p];
        var (min, max) = rest > 0 ? (Math.Max(1, piece.Route[rest - 1].MinS), piece.Route[rest - 1].MaxS ?? Line.Never) : (0, Line.Never);
        var follows = rest > 0 ? rest - 1 : k - 1;
        if (rest == 0 && k >= 2 && piece.Route[k - 2].MaxWaitS is { } wait)
            max = Math.Min(max, wait);
        if (rest > 0 && follows >= 1 && piece.Done >= follows && runningRest is null && given < 0)
            // The rest should have begun when the step before it ended, before second 0, but it does not run: no plan can mend that.
            max = -1;
        if (rest == 0 && k >= 2 && piece.Route[k - 2].Kind == StepKind.Rest && piece.Done == k - 1)
            // A rest that is over must be joined by the next step at once: at second 0 at the latest.
            max = given < 0 ? -1 : 0;
        var pins = piece.Pins.Where(pin => pin.Step == k).ToList();
        var hardAt = runningRest?.EndS;
        return new Node
        {
            Index = nodes.Count,
            Piece = p,
            StepNumber = k,
            Step = step,
            Before = before,
            MinLag = min,
            MaxLag = max,
            RestStep = rest,
            GivenEnd = given,
            GivenBatch = batch,
            Ready = Math.Max(0, Math.Max(k == 1 ? piece.EarliestS : 0, step.Kind == StepKind.Tape ? step.ReadyS : 0)),
            PinnedAt = hardAt ?? pins.Select(x => x.AtS).FirstOrDefault(at => at is not null) ?? -1,
            PinIsHard = hardAt is not null,
            PinnedNotBefore = pins.Select(x => x.NotBeforeS ?? 0).DefaultIfEmpty(0).Max(),
            PinnedStation = PinnedStation(step, pins),
            PinnedRack = rest > 0 && runningRest is null ? PinnedRack(piece, rest) : -1,
            Family = FamilyOf(step),
            Coating = step.Kind == StepKind.Spray ? coatingAt[step.Coating] : -1,
        };
    }

    private int PinnedStation(Step step, List<Pin> pins)
    {
        var id = pins.Select(x => x.Station).FirstOrDefault(s => s is not null);
        if (id is null)
            return -1;
        return step.Station switch
        {
            StationKind.Bench => Array.FindIndex(Sorted<Bench>(), s => s.Id == id),
            StationKind.Booth => Array.FindIndex(Sorted<Booth>(), s => s.Id == id),
            _ => Array.FindIndex(heated, h => h.Station.Id == id && h.Station.Kind == step.Station),
        };
    }

    private int PinnedRack(Piece piece, int rest) =>
        piece.Pins.FirstOrDefault(pin => pin.Step == rest && pin.Station is not null) is { } pin
            ? Array.FindIndex(Sorted<Rack>(), r => r.Id == pin.Station)
            : -1;

    private int FamilyOf(Step step)
    {
        if (step.Station is not (StationKind.Oven or StationKind.Press))
            return -1;
        var family = new Family(step.Station == StationKind.Oven, step.Kind, step.TenthsC, step.Pressure, step.LayUp);
        if (!familyAt.TryGetValue(family, out var at))
        {
            familyAt[family] = at = families.Count;
            families.Add(family);
        }
        return at;
    }

    private RunningWork BuildRunning() =>
        new()
        {
            Tasks = [.. day.Running.Tasks],
            Batches = [.. runningBatches.Select(BuildBatch)],
            Rest = [.. pieces.Select(p => runningByPiece[p.Id].FirstOrDefault(t => t.Kind == TaskKinds.Rest && t.Step > p.Done))],
        };

    private RunningBatch BuildBatch(Batch batch)
    {
        var tasks = day.Running.Tasks.Where(t => t.Batch == batch.Id).ToList();
        PlanTask? Of(string kind) => tasks.Find(t => t.Kind == kind);
        var station = tasks.FirstOrDefault()?.Station ?? "";
        var place =
            batch.Kind == BatchKinds.Round
                ? Array.FindIndex(Sorted<Booth>(), b => b.Id == station)
                : Array.FindIndex(heated, h => h.Station.Id == station);
        var steps = batch.Places.Select(m => pieces[pieceAt[m.Piece]].Route[m.Step - 1]).ToList();
        var oven = place >= 0 && batch.Kind == BatchKinds.Load ? heated[place].Oven : null;
        var heat = steps.Sum(s => (long)s.HeatJ);
        var watts = oven?.HeaterW ?? 0;
        var floor = watts > 0 ? (int)((heat + watts - 1) / watts) : 0;
        return new RunningBatch
        {
            Batch = batch,
            Place = place,
            Load = Of(TaskKinds.Load),
            Dwell = Of(TaskKinds.Dwell),
            Unload = Of(TaskKinds.Unload),
            Press = Of(TaskKinds.Press),
            Shake = Of(TaskKinds.Shake),
            Sprays = [.. tasks.Where(t => t.Kind == TaskKinds.Spray)],
            DwellMin = Math.Max(floor, steps.Select(s => s.MinS).DefaultIfEmpty(1).Max()),
            DwellMax = steps.Select(s => s.MaxS ?? Line.Never).DefaultIfEmpty(Line.Never).Min(),
            UnloadS = oven is null ? 0 : oven.UnloadS + (steps.Count * oven.UnloadEachS),
        };
    }

    private (int, string)[] BuildPublished(int beforeS)
    {
        var result = new (int, string)[nodes.Count];
        Array.Fill(result, (Decoder.NotPublished, ""));
        if (day.Published is not { } published)
            return result;
        var steps = published.Steps.Where(s => s.StartS < beforeS).ToDictionary(s => (s.Piece, s.Step));
        foreach (var node in nodes)
            if (steps.TryGetValue((pieces[node.Piece].Id, node.StepNumber), out var step))
                result[node.Index] = (step.StartS, step.Station);
        return result;
    }
}
