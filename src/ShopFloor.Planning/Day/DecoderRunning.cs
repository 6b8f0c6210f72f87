using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Work that already runs is put first and never moves; what it leaves open (an unload, the end of a dwell) is chosen here.</summary>
internal sealed partial class Decoder
{
    private readonly int[] givenRack;

    /// <summary>Running batches in the order in which they claim people: what is settled first, then loads by when they must come out.</summary>
    private readonly int[] runningOrder;

    /// <summary>For each running batch what was placed, or null for rounds.</summary>
    public PlacedBatch?[] RunningPlaced => running;

    private void PlaceRunning()
    {
        Array.Fill(givenRack, -1);
        Array.Clear(running);
        foreach (var task in shop.Running.Tasks)
            Claim(task);
        foreach (var b in runningOrder)
            PlaceRunning(b, shop.Running.Batches[b]);
        // What lies on a rack already has its room before what is still to come out of a load.
        foreach (var lies in (ReadOnlySpan<bool>)[true, false])
            for (var p = 0; p < shop.Pieces.Length; p++)
                if (shop.Running.Rest[p] is not null == lies)
                    OpenRunningRest(p);
    }

    private void Claim(PlanTask task)
    {
        var end = task.EndS ?? 0;
        if (task.Person is { } id && Array.FindIndex(shop.People, x => x.Id == id) is var person and >= 0 && end > 0)
            people[person].Block(task.StartS, end);
        for (var b = 0; b < benches.Length; b++)
            if (shop.Benches[b].Id == task.Station && end > 0)
                ClaimBench(b, task.StartS, end);
        for (var h = 0; h < heated.Length; h++)
            if (shop.Heated[h].Station.Id == task.Station && task.Kind == TaskKinds.SetPoint)
                heated[h].Add(task.StartS, end, task.ToTenthsC ?? 0, true, task.FromTenthsC ?? 0, false);
        for (var b = 0; b < booths.Length; b++)
            if (shop.Booths[b].Id == task.Station && end > 0)
                booths[b].Block(task.StartS, end);
    }

    private void ClaimBench(int b, int from, int to)
    {
        foreach (var line in benches[b])
            if (line.IsFree(0, to) || ReferenceEquals(line, benches[b][^1]))
            {
                line.Block(from, to);
                return;
            }
    }

    private void PlaceRunning(int b, RunningBatch batch)
    {
        if (batch.Place < 0)
            return;
        if (batch.Batch.Kind == BatchKinds.Round)
            PlaceRunningRound(b, batch);
        else if (batch.IsLoad)
            PlaceRunningLoad(b, batch);
        else if (batch.Press is { EndS: { } end } press)
        {
            heated[batch.Place].Add(press.StartS, end, batch.Batch.TenthsC ?? 0, false, 0, false);
            running[b] = new PlacedBatch(-1, b, batch.Place, press.StartS, press.StartS, end, end, -1, -1);
        }
    }

    private void PlaceRunningLoad(int b, RunningBatch batch)
    {
        var loadEnd = batch.Load?.EndS ?? batch.Dwell?.StartS ?? 0;
        var start = batch.Load?.StartS ?? loadEnd;
        var dwellStart = DwellStart(batch);
        var (person, unload) = (-1, 0);
        if (batch.Unload is { } given)
            unload = given.StartS;
        else if (batch.Dwell?.EndS is { } fixedEnd)
        {
            unload = fixedEnd;
            Unload(unload, unload, batch.UnloadS, out person);
        }
        else
        {
            var soonest = Math.Max(Math.Max(1, dwellStart + 1), dwellStart + batch.DwellMin);
            unload = Unload(soonest, dwellStart + batch.DwellMax, batch.UnloadS, out person);
        }
        unload = Math.Min(unload, shop.Horizon);
        var end = batch.Unload?.EndS ?? unload + batch.UnloadS;
        if (person >= 0)
            people[person].Block(unload, end);
        heated[batch.Place].Add(start, end, batch.Batch.TenthsC ?? 0, false, 0, false);
        running[b] = new PlacedBatch(-1, b, batch.Place, start, dwellStart, unload, end, -1, person);
    }

    /// <summary>When somebody takes a running load out, and who: nobody is sent home for the evening by what would leave it in for too long, so overtime
    /// counts where normal time comes too late.</summary>
    private int Unload(int soonest, int latest, int length, out int person)
    {
        var best = AnyPerson(StationKind.Oven, soonest, length, out person);
        if (best <= latest)
            return best;
        foreach (var p in shop.PeopleFor[(int)StationKind.Oven])
            if (OvertimeLine(p).Free(soonest, length) is var t && t < best)
                (best, person) = (t, p);
        return best;
    }

    /// <summary>What keeps somebody who stays for all overtime from unloading: running tasks, and what else must come out.</summary>
    private Line OvertimeLine(int person)
    {
        var line = PersonLine(shop.People[person], int.MaxValue);
        foreach (var task in shop.Running.Tasks)
            if (task.Person == shop.People[person].Id && task.EndS is > 0 and var end)
                line.Block(task.StartS, end);
        foreach (var placed in running)
            if (placed is not null && placed.UnloadPerson == person)
                line.Block(placed.UnloadStart, placed.End);
        return line;
    }

    /// <summary>Seconds by which running loads whose end is open dwell too long.</summary>
    public long OverbakedS()
    {
        var sum = 0L;
        for (var b = 0; b < running.Length; b++)
            if (running[b] is { } placed && Deadline(shop.Running.Batches[b]) > int.MinValue)
                sum += Math.Max(0L, placed.UnloadStart - placed.DwellStart - (long)shop.Running.Batches[b].DwellMax);
        return sum;
    }

    /// <summary>When a running load must come out; smallest number when that is settled.</summary>
    private static int Deadline(RunningBatch batch) =>
        batch is { IsLoad: true, Unload: null } && batch.Dwell?.EndS is null ? DwellStart(batch) + batch.DwellMax : int.MinValue;

    private static int DwellStart(RunningBatch batch) => batch.Dwell?.StartS ?? batch.Load?.EndS ?? 0;

    private void PlaceRunningRound(int b, RunningBatch batch)
    {
        var coating = Array.FindIndex(shop.Coatings, c => c.Id == batch.Batch.Coating);
        var can = Array.FindIndex(shop.Cans[coating], c => c.Id == batch.Batch.Can);
        foreach (var spray in batch.Sprays)
            canLeft[coating][can] -= UlOf(spray);
        var last = batch.Sprays.Append(batch.Shake).OfType<PlanTask>().Max(t => t.EndS ?? 0);
        // Without its shake nothing is known of how long it lasts, so nothing joins it.
        var person = batch.Shake is { Person: { } id } ? Array.FindIndex(shop.People, p => p.Id == id) : -1;
        rounds[batch.Place]
            .Add(
                new Round
                {
                    Coating = coating,
                    Can = can,
                    Person = person,
                    ShakeStart = batch.Shake?.StartS ?? 0,
                    End = last,
                    Sprays = batch.Sprays.Length,
                    Given = b,
                }
            );
    }

    /// <summary>Running rounds that are shaken and have no spray: no whole plan has such a round.</summary>
    public IEnumerable<RunningBatch> EmptyRounds()
    {
        if (shop.Running.Batches.Length == 0)
            yield break;
        foreach (var list in rounds)
        foreach (var round in list)
            if (round is { Given: >= 0, Sprays: 0 })
                yield return shop.Running.Batches[round.Given];
    }

    private int UlOf(PlanTask spray)
    {
        var piece = Array.Find(shop.Pieces, p => p.Id == spray.Piece);
        return piece is not null && spray.Step is { } k ? piece.Route[k - 1].Ul : 0;
    }

    private void OpenRunningRest(int p)
    {
        if (shop.Running.Rest[p] is { } task)
        {
            var rack = Array.FindIndex(shop.Racks, r => r.Id == task.Station);
            givenRack[p] = rack;
            if (shop.AmpleRack < 0 && rack >= 0)
            {
                rackLines[rack].Change(task.StartS, shop.RackArea(rack, p));
                if (task.EndS is { } over)
                    rackLines[rack].Change(over, -shop.RackArea(rack, p));
            }
            return;
        }
        var first = shop.FirstNode[p];
        if (first < 0 || nodes[first].RestStep == 0)
            return;
        // The rest after a running task or load: its end is known now, so its place on a rack is too.
        var end = EndOfBefore(first);
        givenRack[p] = shop.AmpleRack >= 0 ? shop.AmpleRack : FirstFreeRack(p, end, nodes[first]);
        if (givenRack[p] < 0)
            Fail(p);
        else if (shop.AmpleRack < 0)
            rackLines[givenRack[p]].Change(end, shop.RackArea(givenRack[p], p));
    }

    /// <summary>A rack with room, the one that the rest is pinned to before any other.</summary>
    private int FirstFreeRack(int piece, int from, Node next)
    {
        var shortest = next.MinLag;
        if (next.PinnedRack is >= 0 and var pinned && FreeRack(pinned, from, shop.RackArea(pinned, piece), shortest) == from)
            return pinned;
        for (var r = 0; r < shop.Racks.Length; r++)
            if (FreeRack(r, from, shop.RackArea(r, piece), shortest) == from)
                return r;
        return -1;
    }

    /// <summary>Rack of the rest before a node.</summary>
    public int RackBefore(Node node) => node.Before >= 0 ? RackOf[node.Before] : givenRack[node.Piece];
}
