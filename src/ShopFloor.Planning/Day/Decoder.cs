using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>What the search decides: groups in the order in which they claim people and stations; which steps wait although they could
/// begin, and until when; and how long a spray waits for a round that is shaken already.</summary>
/// <param name="Groups">Loads, sessions and single pieces.</param>
/// <param name="OvertimeUntilS">Shifts that begin before it are worked to their very end; 0: nobody works overtime.</param>
/// <param name="Holds">For each node the time before which it does not begin; null: no step waits.</param>
/// <param name="Patience">For each node how many seconds it waits for an open round; null: <see cref="Decoder.WaitForRoundS"/> for all.</param>
/// <param name="FinishLast">Whether what remains of pieces after their last oven or press is placed behind everything else.</param>
internal sealed record Solution(Group[] Groups, int OvertimeUntilS, int[]? Holds = null, int[]? Patience = null, bool FinishLast = false);

/// <summary>Places the groups of a solution one after another, each as early as its limits allow, with all that leads to it.
/// Search kernel: one instance per chain, used again and again, deterministic.</summary>
internal sealed partial class Decoder
{
    private readonly Shop shop;
    private readonly GroupMaker maker;
    private readonly Node[] nodes;
    private readonly Line[] people;
    private readonly Line[][] benches;
    private readonly Line[] booths;
    private readonly HeatLine[] heated;
    private Group[] groups = [];
    private int[] groupState = [];
    private readonly int[] groupOf;

    /// <summary>Place of a step at its bench, or -1 where there is always room.</summary>
    private readonly int[] placeOf;

    /// <summary>A bench that always has room, or -1.</summary>
    private readonly int ampleBench;
    private readonly List<Undo> journal = [];
    private int overtimeUntil;
    private int[]? holds;
    private int[]? patience;
    private bool finishLast;

    public Decoder(Shop shop, GroupMaker maker)
    {
        (this.shop, this.maker, givenCost) = (shop, maker, GivenCost.Of(shop));
        nodes = shop.Nodes;
        people = [.. shop.People.Select(_ => new Line())];
        benches = [.. shop.Benches.Select(b => Enumerable.Range(0, b.Places ?? 0).Select(_ => new Line()).ToArray())];
        booths = [.. shop.Booths.Select(_ => new Line())];
        heated = [.. shop.Heated.Select(_ => new HeatLine())];
        groupOf = new int[nodes.Length];
        ampleBench = Array.FindIndex(shop.Benches, b => b.Places is null && b.Down.Count == 0);
        Start = new int[nodes.Length];
        End = new int[nodes.Length];
        PersonOf = new int[nodes.Length];
        StationOf = new int[nodes.Length];
        RoundOf = new int[nodes.Length];
        placeOf = new int[nodes.Length];
        RackOf = new int[nodes.Length];
        release = new int[nodes.Length];
        inBlock = new int[nodes.Length];
        blockMark = new int[nodes.Length];
        pinDropped = new bool[nodes.Length];
        busy = new bool[nodes.Length];
        running = new PlacedBatch?[shop.Running.Batches.Length];
        runningOrder = [.. Enumerable.Range(0, running.Length).OrderBy(b => Deadline(shop.Running.Batches[b]))];
        givenRack = new int[shop.Pieces.Length];
        rackLines = [.. shop.Racks.Select(_ => new RackLine())];
        rounds = [.. shop.Booths.Select(_ => new List<Round>())];
        canLeft = [.. shop.Cans.Select(cans => new int[cans.Length])];
        Failed = new bool[shop.Pieces.Length];
    }

    public int[] Start { get; }

    public int[] End { get; }

    public int[] PersonOf { get; }

    /// <summary>Bench, booth or heated place of a node.</summary>
    public int[] StationOf { get; }

    public int[] RoundOf { get; }

    /// <summary>Rack of the rest that follows a node.</summary>
    public int[] RackOf { get; }

    /// <summary>Pieces that could not be placed.</summary>
    public bool[] Failed { get; }

    public int FailedCount { get; private set; }

    public List<PlacedBatch> Placed { get; } = [];

    public Group[] Groups => groups;

    private readonly record struct Undo(UndoKind Kind, int A, int B, int C, int D);

    private enum UndoKind
    {
        Node,
        Line,
        Heat,
        RoundNew,
        RoundGrown,
        Batch,
        Rack,
        Join,
        Moved,
        TakenAway,
    }

    /// <summary>Places everything; afterwards the arrays say what, where and when. Pieces in <see cref="Failed"/> have no plan.</summary>
    public void Run(Solution solution, bool[]? leftOut = null)
    {
        Reset(solution, leftOut);
        for (var g = 0; g < solution.Groups.Length; g++)
            if (groupState[g] == Waiting)
                PlaceGroup(g);
        if (finishLast)
            FinishAll();
        for (var p = 0; p < shop.Pieces.Length; p++)
            if (!Failed[p] && shop.LastNode[p] >= 0 && Start[shop.LastNode[p]] < 0)
                Fail(p);
    }

    private void Fail(int piece)
    {
        if (Failed[piece])
            return;
        Failed[piece] = true;
        FailedCount++;
    }

    private void Reset(Solution solution, bool[]? leftOut)
    {
        groups = solution.Groups;
        parts.Clear();
        overtimeUntil = solution.OvertimeUntilS;
        (holds, patience, finishLast) = (solution.Holds, solution.Patience, solution.FinishLast);
        if (groupState.Length < groups.Length)
            groupState = new int[groups.Length];
        Array.Clear(groupState);
        Array.Fill(groupOf, -1);
        Array.Fill(Start, -1);
        Array.Fill(RoundOf, -1);
        Array.Fill(RackOf, -1);
        Array.Clear(pinDropped);
        Array.Clear(blockMark);
        Array.Clear(busy);
        depth = 0;
        blockCount = 0;
        Array.Clear(Failed);
        FailedCount = 0;
        for (var p = 0; leftOut is not null && p < leftOut.Length; p++)
            if (leftOut[p])
                Fail(p);
        for (var g = 0; g < groups.Length; g++)
            foreach (var n in groups[g].Nodes)
                groupOf[n] = g;
        journal.Clear();
        Placed.Clear();
        ResetLines();
        PlaceRunning();
        journal.Clear();
    }

    private void ResetLines()
    {
        EnsureBase();
        for (var p = 0; p < people.Length; p++)
            people[p].CopyFrom(basePeople[p]);
        for (var b = 0; b < benches.Length; b++)
            foreach (var line in benches[b])
                line.CopyFrom(baseBenches[b]);
        for (var b = 0; b < booths.Length; b++)
            booths[b].CopyFrom(baseBooths[b]);
        for (var h = 0; h < heated.Length; h++)
            heated[h].Reset(baseHeated[h], shop.Heated[h].Station.Heat.NowTenthsC);
        foreach (var list in rounds)
            list.Clear();
        for (var c = 0; c < canLeft.Length; c++)
        for (var k = 0; k < canLeft[c].Length; k++)
            canLeft[c][k] = shop.Cans[c][k].LeftUl;
        foreach (var line in rackLines)
            line.Clear();
    }

    private Line[] basePeople = [];
    private Line[] baseBenches = [];
    private Line[] baseBooths = [];
    private Line[] baseHeated = [];
    private int baseOvertimeUntil = -1;

    private void EnsureBase()
    {
        if (baseOvertimeUntil == overtimeUntil)
            return;
        baseOvertimeUntil = overtimeUntil;
        basePeople = [.. shop.People.Select(p => PersonLine(p, overtimeUntil))];
        baseBenches = [.. shop.Benches.Select(DownLine)];
        baseBooths = [.. shop.Booths.Select(DownLine)];
        baseHeated = [.. shop.Heated.Select(h => DownLine(h.Station))];
    }

    private Line PersonLine(Person person, int overtimeUntil)
    {
        var line = new Line();
        var from = int.MinValue / 4;
        foreach (var shift in person.Shifts)
        {
            var to = Math.Min(overtimeUntil > 0 && shift.FromS < overtimeUntil ? shift.ToS : shift.NormalToS, shop.Horizon);
            if (to <= shift.FromS)
                continue;
            line.Block(from, shift.FromS);
            from = to;
        }
        line.Block(from, Line.Never);
        return line;
    }

    private Line DownLine(Station station)
    {
        var line = new Line();
        foreach (var span in station.Down)
            line.Block(span.FromS, Math.Min(span.ToS, Line.Never));
        line.Block(shop.Horizon, Line.Never);
        return line;
    }

    private void Take(Line[] lines, int kind, int at, int from, int to)
    {
        lines[at].Add(from, to);
        journal.Add(new Undo(UndoKind.Line, kind, at, from, to));
    }

    private const int PersonLines = -1;
    private const int BoothLines = -2;

    private Line LineAt(int kind, int at) =>
        kind switch
        {
            PersonLines => people[at],
            BoothLines => booths[at],
            _ => benches[kind][at],
        };

    private void UndoTo(int mark)
    {
        for (var i = journal.Count - 1; i >= mark; i--)
        {
            var u = journal[i];
            switch (u.Kind)
            {
                case UndoKind.Node:
                    Start[u.A] = -1;
                    break;
                case UndoKind.Line:
                    LineAt(u.A, u.B).Remove(u.C, u.D);
                    break;
                case UndoKind.Heat:
                    heated[u.A].Remove(u.B);
                    break;
                case UndoKind.RoundNew:
                    UndoRound(u.A, u.B);
                    break;
                case UndoKind.RoundGrown:
                    UndoGrowth(u.A, u.B, u.C, u.D);
                    break;
                case UndoKind.Batch:
                    Placed.RemoveAt(Placed.Count - 1);
                    break;
                case UndoKind.Join:
                    UndoJoin(u.A);
                    break;
                case UndoKind.Moved:
                    (Start[u.A], End[u.A]) = (u.B, u.C);
                    break;
                case UndoKind.TakenAway:
                    UndoTakenAway();
                    break;
                default:
                    rackLines[u.A].Change(u.B, u.D * shop.RackArea(u.A, u.C));
                    break;
            }
        }
        journal.RemoveRange(mark, journal.Count - mark);
    }
}
