namespace ShopFloor.Planning.DayPlans;

/// <summary>What the placed solution costs, running work included.</summary>
internal sealed partial class Decoder
{
    private readonly GivenCost givenCost;

    /// <summary>When a piece is finished.</summary>
    public int PieceEnd(int p)
    {
        if (shop.LastNode[p] >= 0)
            return End[shop.LastNode[p]];
        var (end, batch) = shop.Given[p];
        return batch >= 0 && running[batch] is { } placed ? placed.End : Math.Max(end, int.MinValue / 4);
    }

    public long Cost()
    {
        var w = shop.Day.Weights;
        var (lateS, late) = Late();
        var (dwell, loads, finish) = Loads();
        for (var n = 0; n < nodes.Length; n++)
            if (Start[n] >= 0)
                finish = Math.Max(finish, End[n]);
        var shakes = givenCost.Shakes + rounds.Sum(list => list.Count(r => r.Given < 0));
        return (w.LeftOut * FailedCount)
            + (w.LateS * lateS)
            + (w.LatePieces * late)
            + (w.OvertimeS * Overtime())
            + (w.OvenLoads * loads)
            + (w.OvenS * dwell)
            + (w.Shakes * shakes)
            + (w.SetPoints * SetPoints())
            + (w.FinishS * finish)
            + (w.Changed * Changed());
    }

    private (long Seconds, long Pieces) Late()
    {
        var (seconds, pieces) = (0L, 0L);
        for (var p = 0; p < Failed.Length; p++)
            if (!Failed[p] && PieceEnd(p) - (long)shop.Pieces[p].PromiseS is var over and > 0)
            {
                seconds += over * shop.Pieces[p].Weight;
                pieces++;
            }
        return (seconds, pieces);
    }

    /// <summary>Dwell and number of oven loads, and when the last load or session ends.</summary>
    private (long DwellS, long Loads, int FinishS) Loads()
    {
        var (dwell, loads, finish) = (0L, (long)givenCost.Loads, givenCost.FinishS);
        foreach (var placed in Placed)
        {
            if (shop.Heated[placed.Place].IsOven)
            {
                loads++;
                dwell += placed.UnloadStart - placed.DwellStart;
            }
            finish = Math.Max(finish, placed.End);
        }
        for (var b = 0; b < running.Length; b++)
            if (running[b] is { } placed)
            {
                dwell += shop.Running.Batches[b].IsLoad ? placed.UnloadStart - placed.DwellStart : 0;
                finish = Math.Max(finish, placed.End);
            }
        return (dwell, loads, finish);
    }

    /// <summary>The mean end of the pieces, in seconds: two solutions that cost the same differ in how near they are to costing less.</summary>
    public long MeanEnd()
    {
        var (sum, count) = (0L, 0);
        for (var p = 0; p < Failed.Length; p++)
            if (!Failed[p] && shop.LastNode[p] >= 0)
                (sum, count) = (sum + End[shop.LastNode[p]], count + 1);
        return count == 0 ? 0 : sum / count;
    }

    private long SetPoints()
    {
        var count = 0L;
        foreach (var line in heated)
            for (var i = 0; i < line.Count; i++)
                if (line.IsChange(i) && line.ToAt(i) != shop.Day.RoomTenthsC)
                    count++;
        return count;
    }

    private long Changed()
    {
        if (shop.Day.Published is not { } published)
            return 0;
        var count = (long)givenCost.Changed;
        for (var n = 0; n < nodes.Length; n++)
        {
            var (start, station) = shop.PublishedNear[n];
            if (
                start != NotPublished
                && Start[n] >= 0
                && (Math.Abs((long)Start[n] - start) > published.MovedS || StationName(n) != station)
            )
                count++;
        }
        return count;
    }

    /// <summary>When what a node follows ends.</summary>
    public int EndBefore(int n) => EndOfBefore(n);

    public HeatLine[] Heated => heated;

    public bool PersonIsFree(int person, int from, int to) => people[person].IsFree(from, to);

    /// <summary>Whether the bench or booth of a placed step had room.</summary>
    public bool PlaceIsFree(int n, int from, int to) =>
        nodes[n].IsSpray
            ? booths[StationOf[n]].IsFree(from, to)
            : benches[StationOf[n]].Length == 0 || Array.Exists(benches[StationOf[n]], line => line.IsFree(from, to));

    /// <summary>The start of the shake when the step is the first spray after it, or null.</summary>
    public int? ShakeStart(int n) =>
        nodes[n].IsSpray
        && rounds[StationOf[n]][RoundOf[n]] is { Given: < 0 } round
        && Start[n] == round.ShakeStart + shop.Coatings[round.Coating].ShakeS
            ? round.ShakeStart
            : null;

    public const int NotPublished = int.MinValue;

    public string StationName(int n) =>
        nodes[n].IsHeated ? shop.Heated[StationOf[n]].Station.Id
        : nodes[n].IsSpray ? shop.Booths[StationOf[n]].Id
        : shop.Benches[StationOf[n]].Id;

    private long Overtime()
    {
        var sum = givenCost.OvertimeS;
        foreach (var placed in running)
            if (placed is { UnloadPerson: >= 0 })
                sum += Overtime(placed.UnloadPerson, placed.UnloadStart, placed.End);
        if (overtimeUntil <= 0)
            return sum;
        for (var n = 0; n < nodes.Length; n++)
            if (Start[n] >= 0 && !nodes[n].IsHeated)
                sum += Overtime(PersonOf[n], Start[n], End[n]);
        foreach (var placed in Placed)
            if (shop.Heated[placed.Place].IsOven)
                sum +=
                    Overtime(placed.LoadPerson, placed.Start, placed.DwellStart)
                    + Overtime(placed.UnloadPerson, placed.UnloadStart, placed.End);
            else
                sum += Overtime(placed.LoadPerson, placed.Start, placed.End);
        for (var b = 0; b < rounds.Length; b++)
            foreach (var round in rounds[b])
                if (round.Given < 0)
                    sum += Overtime(round.Person, round.ShakeStart, round.ShakeStart + shop.Coatings[round.Coating].ShakeS);
        return sum;
    }

    private long Overtime(int person, int from, int to) => GivenCost.Overtime(shop.People[person], from, to);
}
