using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Takes over a finished plan as it stands, so that more can be placed around it.</summary>
internal sealed partial class Decoder
{
    /// <summary>Afterwards everything holds what the plan says; pieces that it does not have are waiting to be placed.</summary>
    /// <param name="plan">A plan of the shop's day, or of the same day with fewer pieces; or the first part of one.</param>
    public void Load(Plan plan)
    {
        Reset(new Solution([], 0), null);
        var given = shop.Running.Batches.Select(b => b.Batch.Id).ToHashSet(StringComparer.Ordinal);
        var at = new PlanPlaces(shop);
        var roundOf = LoadRounds(plan, given);
        foreach (var task in plan.Tasks.Where(t => t.Kind == TaskKinds.SetPoint && t.EndS > heated[at.Station(t.Station)].LastEnd))
            heated[at.Station(task.Station)]
                .Add(task.StartS, task.EndS!.Value, task.ToTenthsC!.Value, true, task.FromTenthsC!.Value, false);
        LoadBatches(plan, given, at);
        foreach (var task in plan.Tasks)
            LoadTask(task, at, roundOf);
        foreach (var task in plan.Tasks.Where(t => t.Kind == TaskKinds.Rest))
            LoadRest(task, at);
        foreach (var left in plan.LeftOut)
            Fail(at.Pieces[left.Piece]);
        journal.Clear();
    }

    /// <summary>Where things stood, so that what is placed later can be taken back.</summary>
    public readonly record struct Saved(int Journal, Group[] Groups);

    public Saved Save() => new(journal.Count, groups);

    /// <summary>Places one more group with all that leads to it; false when it or some of its pieces could not be placed.</summary>
    public bool PlaceMore(Group group) =>
        PlaceGroup(AddGroup(group)) && Array.TrueForAll(group.Nodes, n => Start[n] >= 0 && !Failed[nodes[n].Piece]);

    /// <summary>Places more groups, each known to the others from the start; false when some piece could not be placed.</summary>
    public bool PlaceMore(IReadOnlyList<Group> more)
    {
        var first = groups.Length;
        foreach (var group in more)
            AddGroup(group);
        for (var g = first; g < first + more.Count; g++)
            if (groupState[g] == Waiting)
                PlaceGroup(g);
        return more.All(group => Array.TrueForAll(group.Nodes, n => Start[n] >= 0 && !Failed[nodes[n].Piece]));
    }

    /// <summary>Takes back whatever was placed since, of these pieces.</summary>
    public void Back(Saved saved, IReadOnlyList<int> pieces)
    {
        UndoTo(saved.Journal);
        groups = saved.Groups;
        foreach (var p in pieces)
        {
            if (Failed[p])
                FailedCount--;
            Failed[p] = false;
            for (var n = shop.FirstNode[p]; n >= 0; n = nodes[n].Next)
                if (Start[n] < 0)
                    (groupOf[n], pinDropped[n]) = (-1, false);
        }
    }

    private Dictionary<string, int> LoadRounds(Plan plan, HashSet<string> given)
    {
        var roundOf = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var b = 0; b < booths.Length; b++)
        for (var r = 0; r < rounds[b].Count; r++)
            roundOf[shop.Running.Batches[rounds[b][r].Given].Batch.Id] = r;
        var byBatch = plan.Tasks.Where(t => t.Batch is not null).ToLookup(t => t.Batch!, StringComparer.Ordinal);
        var made = plan.Batches.Where(b => b.Kind == BatchKinds.Round && !given.Contains(b.Id));
        foreach (var batch in made.OrderBy(b => byBatch[b.Id].Min(t => t.StartS)))
        {
            var tasks = byBatch[batch.Id].ToList();
            var coating = Array.FindIndex(shop.Coatings, c => c.Id == batch.Coating);
            var booth = Array.FindIndex(shop.Booths, b => b.Id == tasks[0].Station);
            var round = new Round
            {
                Coating = coating,
                Can = Array.FindIndex(shop.Cans[coating], c => c.Id == batch.Can),
                Person = Array.FindIndex(shop.People, p => p.Id == tasks[0].Person),
                ShakeStart = tasks.Min(t => t.StartS),
                End = tasks.Max(t => t.EndS!.Value),
                Sprays = tasks.Count - 1,
            };
            roundOf[batch.Id] = rounds[booth].Count;
            rounds[booth].Add(round);
            booths[booth].Block(round.ShakeStart, round.End);
        }
        return roundOf;
    }

    private void LoadBatches(Plan plan, HashSet<string> given, PlanPlaces at)
    {
        var byBatch = plan.Tasks.Where(t => t.Batch is not null).ToLookup(t => t.Batch!, StringComparer.Ordinal);
        foreach (var batch in plan.Batches.Where(b => b.Kind != BatchKinds.Round && !given.Contains(b.Id)))
        {
            var tasks = byBatch[batch.Id].OrderBy(t => t.StartS).ToList();
            var h = at.Station(tasks[0].Station);
            var (start, end) = (tasks[0].StartS, tasks[^1].EndS!.Value);
            var dwellStart = shop.Heated[h].IsOven ? tasks[1].StartS : end - batch.PressS!.Value;
            var dwellEnd = shop.Heated[h].IsOven ? tasks[2].StartS : end;
            heated[h].Add(start, end, batch.TenthsC!.Value, false, batch.TenthsC.Value, false);
            int[] members = [.. batch.Places.Select(p => at.Nodes[(p.Piece, p.Step)])];
            var group = new Group
            {
                Family = nodes[members[0]].Family,
                Nodes = members,
                Places = [h],
                DwellMin = [dwellEnd - dwellStart],
                DwellMax = dwellEnd - dwellStart,
            };
            var (loader, unloader) = (at.People[tasks[0].Person!], at.People[tasks[^1].Person!]);
            Placed.Add(new PlacedBatch(AddGroup(group), -1, h, start, dwellStart, dwellEnd, end, loader, unloader));
            groupState[groups.Length - 1] = Done;
            foreach (var n in members)
                (Start[n], End[n], PersonOf[n], StationOf[n]) = (start, end, loader, h);
        }
    }

    private void LoadTask(PlanTask task, PlanPlaces at, Dictionary<string, int> roundOf)
    {
        var (start, end) = (task.StartS, task.EndS!.Value);
        if (task.Person is { } person)
            people[at.People[person]].Block(start, end);
        if (task.Piece is null || task.Kind == TaskKinds.Rest || !at.Nodes.TryGetValue((task.Piece, task.Step!.Value), out var n))
            return;
        var station = nodes[n].IsSpray
            ? Array.FindIndex(shop.Booths, b => b.Id == task.Station)
            : Array.FindIndex(shop.Benches, b => b.Id == task.Station);
        (Start[n], End[n], PersonOf[n], StationOf[n]) = (start, end, at.People[task.Person!], station);
        if (nodes[n].IsSpray)
        {
            RoundOf[n] = roundOf[task.Batch!];
            var round = rounds[station][RoundOf[n]];
            canLeft[round.Coating][round.Can] -= nodes[n].Step.Ul;
            if (round.Given >= 0)
            {
                booths[station].Block(Math.Min(round.End, start), end);
                (round.End, round.Sprays) = (Math.Max(round.End, end), round.Sprays + 1);
            }
        }
        else if ((placeOf[n] = Array.FindIndex(benches[station], line => line.IsFree(start, end))) is >= 0 and var place)
            benches[station][place].Block(start, end);
    }

    private void LoadRest(PlanTask task, PlanPlaces at)
    {
        var p = at.Pieces[task.Piece!];
        var rack = Array.FindIndex(shop.Racks, r => r.Id == task.Station);
        var n = shop.FirstNode[p];
        while (n >= 0 && nodes[n].RestStep != task.Step)
            n = nodes[n].Next;
        if (n >= 0 && nodes[n].Before >= 0)
            RackOf[nodes[n].Before] = rack;
        else
            givenRack[p] = rack;
        if (shop.AmpleRack >= 0 || (n >= 0 && nodes[n].Before < 0 && shop.Running.Rest[p]?.EndS is not null))
            return;
        // A rest that began before the plan holds its place already.
        if (n < 0 || nodes[n].Before >= 0)
            rackLines[rack].Change(task.StartS, shop.RackArea(rack, p));
        // In the first part of a plan what ends a rest may be missing: then it holds its place until that is placed.
        if (n < 0 || Start[n] >= 0)
            rackLines[rack].Change(task.EndS!.Value, -shop.RackArea(rack, p));
    }

    /// <summary>Names of a plan as positions.</summary>
    private sealed class PlanPlaces
    {
        private readonly Dictionary<string, int> stations = new(StringComparer.Ordinal);

        public PlanPlaces(Shop shop)
        {
            for (var h = 0; h < shop.Heated.Length; h++)
                stations[shop.Heated[h].Station.Id] = h;
            for (var p = 0; p < shop.People.Length; p++)
                People[shop.People[p].Id] = p;
            for (var p = 0; p < shop.Pieces.Length; p++)
                Pieces[shop.Pieces[p].Id] = p;
            foreach (var node in shop.Nodes)
                Nodes[(shop.Pieces[node.Piece].Id, node.StepNumber)] = node.Index;
        }

        public Dictionary<string, int> People { get; } = new(StringComparer.Ordinal);

        public Dictionary<string, int> Pieces { get; } = new(StringComparer.Ordinal);

        public Dictionary<(string Piece, int Step), int> Nodes { get; } = [];

        public int Station(string id) => stations[id];
    }
}
