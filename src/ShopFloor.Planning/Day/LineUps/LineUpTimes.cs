using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>The earliest times that follow from a line-up. Ops are placed one after another; where a longest wait pushes one that came
/// before, it goes on from there. Search kernel: flat arrays, used again and again.</summary>
internal sealed partial class LineUpTimes
{
    private readonly LineUpShop at;
    private readonly Shop shop;
    private readonly Node[] nodes;
    private readonly int[] bound;
    private readonly int[] personBefore;
    private readonly int[] stationBefore;
    private readonly int[] lastOfPerson;
    private readonly int[] lastOfPlace;
    private readonly (int From, int To)[][] down;
    private readonly (int From, int To)[][] boothDown;
    private readonly int[] lastOfBooth;
    private readonly int steps;
    private readonly int[] pushes;
    private bool tooMany;
    private readonly int[] joinPushes;
    private LineUp line;
    private int pushed;

    // Each op is looked at so often in the mean, and pushed so often, before a line-up is given up: mostly it would go on for ever.
    private int mostVisits = 8;
    private int mostPushes = 7;

    public LineUpTimes(LineUpShop at)
    {
        (this.at, shop, nodes, line) = (at, at.Shop, at.Shop.Nodes, new LineUp(at));
        (Start, End, bound) = (new int[at.Ops], new int[at.Ops], new int[at.Ops]);
        (personBefore, stationBefore) = (new int[at.Ops], new int[at.Ops]);
        (lastOfPerson, lastOfPlace) = (new int[shop.People.Length], new int[shop.Heated.Length]);
        IsShaken = new bool[nodes.Length];
        down = [.. shop.Heated.Select(h => h.Station.Down.Select(d => (d.FromS, d.ToS)).ToArray())];
        boothDown = [.. shop.Booths.Select(b => b.Down.Select(d => (d.FromS, d.ToS)).ToArray())];
        lastOfBooth = new int[shop.Booths.Length];
        pushes = new int[at.Ops];
        (steps, joinPushes) = (nodes.Length, new int[nodes.Length]);
    }

    /// <summary>Starts as last placed.</summary>
    public int[] Start { get; }

    /// <summary>Ends as last placed.</summary>
    public int[] End { get; }

    /// <summary>Whether a can is shaken right before a spray.</summary>
    public bool[] IsShaken { get; }

    /// <summary>The op that its person does before each one, or -1.</summary>
    public int[] PersonBefore => personBefore;

    /// <summary>The op before each one at its booth, oven or press, or -1.</summary>
    public int[] StationBefore => stationBefore;

    /// <summary>Places a line-up that is known to be possible, and afterwards looks as long as that asked for.</summary>
    public bool PlaceFirst(LineUp first)
    {
        while (!Place(first))
        {
            if (mostPushes > 300)
                return false;
            (mostVisits, mostPushes) = (2 * mostVisits, 2 * mostPushes);
        }
        return true;
    }

    /// <summary>Places everything; false when some limit cannot be kept.</summary>
    public bool Place(LineUp placed)
    {
        (line, tooMany) = (placed, false);
        if (!FindBefore())
            return false;
        var (visits, i) = (mostVisits * line.Count, 0);
        while (i < line.Count)
        {
            pushed = int.MaxValue;
            var op = line.Sequence[i];
            var fits =
                op >= at.FirstBatch ? PlaceBatch(op)
                : op >= at.FirstGiven ? PlaceGiven(op)
                : op >= steps ? PlaceShake(op)
                : PlaceStep(op);
            if (!fits || tooMany || --visits < 0)
                return false;
            i = Math.Min(i + 1, pushed);
        }
        return true;
    }

    private bool FindBefore()
    {
        Array.Fill(lastOfPerson, -1);
        Array.Fill(lastOfPlace, -1);
        Array.Fill(lastOfBooth, -1);
        var sequence = line.Sequence;
        for (var i = 0; i < line.Count; i++)
        {
            var op = sequence[i];
            bound[op] = pushes[op] = 0;
            var person = line.Person[op];
            (personBefore[op], lastOfPerson[person]) = (lastOfPerson[person], op);
            if (op < steps)
            {
                if (nodes[op].IsSpray)
                {
                    joinPushes[op] = 0;
                    (stationBefore[op], lastOfBooth[line.Booth[op]]) = (lastOfBooth[line.Booth[op]], op);
                }
            }
            else if (op < at.FirstGiven)
            {
                ref var last = ref lastOfBooth[line.Booth[at.SprayOf(op)]];
                (stationBefore[op], last) = (last, op);
            }
            else if (op >= at.FirstBatch && !at.IsUnload(op))
            {
                var batch = line.Batches[at.BatchAt(op)]!;
                (stationBefore[op], lastOfPlace[batch.Place]) = (lastOfPlace[batch.Place], batch.IsLoad ? op + 1 : op);
                // An oven is unloaded before it is loaded again.
                if (stationBefore[op] is var before && before >= 0 && line.Position[before] > i)
                    return false;
            }
        }
        return true;
    }

    private int PersonFree(int op) => personBefore[op] is var before && before >= 0 ? End[before] : at.PersonFrom[line.Person[op]];

    private bool PlaceGiven(int op)
    {
        (Start[op], End[op]) = (at.Earliest[op], at.Earliest[op] + at.Length[op]);
        return PersonFree(op) <= Start[op];
    }

    private bool PlaceStep(int n)
    {
        var node = nodes[n];
        var from = Math.Max(bound[n], at.Earliest[n]);
        var (before, ended) = (node.Before < 0 ? -1 : line.EndOp(node.Before), 0);
        if (before >= 0)
            from = Math.Max(from, (ended = End[before]) + node.MinLag);
        else
            from = Math.Max(from, AfterPieces(node.Piece));
        if (!(node.IsSpray ? PlaceSpray(n, from) : PlaceAt(n, Math.Max(from, PersonFree(n)), 0, at.Length[n])))
            return false;
        if (before >= 0 && node.IsTight && Start[n] - node.MaxLag > ended)
            Push(before, Start[n] - node.MaxLag);
        return true;
    }

    private int AfterPieces(int piece)
    {
        var t = 0;
        foreach (var other in shop.After[piece])
            if (shop.LastNode[other] is var last and >= 0)
                t = Math.Max(t, End[line.EndOp(last)]);
            else
                t = Math.Max(t, shop.Given[other].Batch < 0 ? shop.Given[other].End : at.BatchEnd[shop.Given[other].Batch]);
        return t;
    }

    /// <summary>Puts an op at the first time from which its person is there, with a lead that the person works too.</summary>
    private bool PlaceAt(int op, int from, int lead, int length)
    {
        var start = InShift(line.Person[op], from - lead, lead + length);
        if (start >= Line.Never || (op < at.FirstBatch && start + lead > at.Latest[op]) || start + lead + length > shop.Horizon)
            return false;
        (Start[op], End[op]) = (start + lead, start + lead + length);
        return true;
    }

    private int InShift(int person, int start, int seconds)
    {
        foreach (var (from, _, to) in at.Shifts[person])
            if (Math.Max(start, from) + seconds <= to)
                return Math.Max(start, from);
        return Line.Never;
    }

    /// <summary>An op must end at a time or later.</summary>
    private void Push(int op, int end)
    {
        if (End[op] >= end)
            return;
        bound[op] = end - (End[op] - Start[op]);
        tooMany |= ++pushes[op] > mostPushes;
        pushed = Math.Min(pushed, line.Position[op]);
    }
}
