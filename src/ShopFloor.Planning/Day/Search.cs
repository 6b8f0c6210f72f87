namespace ShopFloor.Planning.DayPlans;

/// <summary>One chain of the search: changes the best solution step by step and keeps what is better, or for a while what is little worse
/// (annealing; S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Science 220, 1983). Depends on its seed and what it is given alone.</summary>
internal sealed partial class Chain
{
    private readonly Workroom room;
    private readonly SeededRandom random;
    private readonly HoldMoves holds;
    private readonly CarryMove carry;
    private readonly HastenMove hasten;
    private readonly PlacedTimes times;
    private Solution current;
    private long currentCost;

    public Chain(Workroom room, Solution start, long cost, ulong seed, int elite)
    {
        Elite = new Elite(elite);
        this.room = room;
        random = new SeededRandom(seed);
        times = new PlacedTimes(room.Shop);
        holds = new HoldMoves(room, times, random);
        hasten = new HastenMove(room, times, random);
        carry = new CarryMove(room, random);
        (current, currentCost, Best, BestCost) = (start, cost, start, cost);
    }

    public Solution Best { get; private set; }

    public long BestCost { get; private set; }

    /// <summary>The best solutions that it has met in rounds that count.</summary>
    public Elite Elite { get; }

    /// <summary>Knows of a better solution of another chain from now on.</summary>
    public void TakeOver(Solution solution, long cost)
    {
        if (cost < BestCost)
            (Best, BestCost) = (solution, cost);
    }

    /// <summary>After so many rounds an exploring chain begins anew.</summary>
    public const int CycleRounds = 16;

    private const double Warm = 600;
    private const double Cold = 10;

    /// <summary>One round: an exploring chain cools over a whole cycle from a solution made anew; any other goes on from the best solution
    /// known, by turns more and less warm, so that a stop at any time finds a solution that has been cooled.</summary>
    public void Round(int round, bool explores, int steps, CancellationToken cancel)
    {
        var at = explores ? round % CycleRounds : round % 4;
        if (explores && at == 0)
            StartAnew(Math.Max(1, steps / 8), cancel);
        if (!explores)
            current = Best;
        var (from, to) = explores ? (Cooled(at), Cooled(at + 1)) : (IntensiveWarmth[at], IntensiveWarmth[at] / 50);
        Run(steps, (from, to), explores || at < 2 ? 1 : 0, cancel);
    }

    private static readonly double[] IntensiveWarmth = [2000, 600, 150, 30];

    private static double Cooled(int rounds) => Warm * Math.Pow(Cold / Warm, (double)rounds / CycleRounds);

    /// <summary>Stands at the best of some solutions made anew.</summary>
    private void StartAnew(int tries, CancellationToken cancel)
    {
        currentCost = long.MaxValue;
        for (var i = 0; i < tries && !cancel.IsCancellationRequested; i++)
        {
            var made = room.Another(random);
            var cost = room.Evaluate(made);
            if (cost < currentCost)
                (current, currentCost) = (room.Decoder.AsPlaced(made), cost);
        }
        if (currentCost < BestCost)
            (Best, BestCost) = (current, currentCost);
    }

    /// <summary>A fixed number of steps that cool from one warmth to another, in points.</summary>
    private void Run(int steps, (double From, double To) warmth, int guide, CancellationToken cancel)
    {
        currentCost = room.Evaluate(current) + (guide * Guide());
        times.Remember(room.Decoder);
        var found = (Cost: long.MaxValue, MeanEnd: long.MaxValue, Solution: current);
        for (var i = 0; i < steps && !cancel.IsCancellationRequested; i++)
        {
            var next = Change(current);
            if (next is null)
                continue;
            var cost = room.Evaluate(next);
            if (cost < BestCost)
                (Best, BestCost) = (room.Decoder.AsPlaced(next), cost);
            var meanEnd = room.Decoder.MeanEnd();
            var guided = cost + (guide * meanEnd / 2);
            var now = warmth.From * Math.Pow(warmth.To / warmth.From, (double)i / steps);
            if (Elite.Wants(cost, meanEnd) && (cost, meanEnd).CompareTo((found.Cost, found.MeanEnd)) < 0)
                found = (cost, meanEnd, room.Decoder.AsPlaced(next));
            if (guided <= currentCost || random.NextUnit() < Math.Exp((currentCost - guided) / now))
            {
                (current, currentCost) = (room.Decoder.AsPlaced(next), guided);
                times.Remember(room.Decoder);
            }
        }
        best = found;
    }

    /// <summary>The best that the last round met, for <see cref="Elite"/>.</summary>
    private (long Cost, long MeanEnd, Solution Solution)? best;

    /// <summary>The last round counts: all chains have finished it. One of each round is kept, so that they differ by more than a little.</summary>
    public void Keep()
    {
        if (best is { Cost: < long.MaxValue } found)
            Elite.Offer(found.Cost, found.MeanEnd, found.Solution);
    }

    /// <summary>The mean end of the pieces counts a little while searching: of two solutions that cost the same, the one whose pieces are
    /// finished sooner is nearer to one that costs less.</summary>
    private long Guide() => room.Decoder.MeanEnd() / 2;

    private Solution? Change(Solution s)
    {
        if (s.Groups.Length == 0)
            return null;
        return random.Next(34) switch
        {
            >= 30 => hasten.Change(s),
            >= 28 => carry.Change(s),
            >= 20 => holds.Change(s),
            < 5 => MoveOrder(s),
            < 7 => SwapOrder(s),
            < 10 => MoveMember(s),
            < 11 => room.Shop.IsSmall ? MoveAlike(s) : MoveMember(s),
            < 14 => ExchangeMembers(s),
            < 15 => Part(s),
            < 17 => Merge(s),
            < 19 => Reorder(s),
            _ => random.Next(4) == 0 ? s with { FinishLast = !s.FinishLast } : Overtime(s),
        };
    }

    /// <summary>A group: as often one that has many members as each by itself.</summary>
    private int AnyGroup(Solution s)
    {
        if (random.Next(2) == 0)
            return random.Next(s.Groups.Length);
        var n = random.Next(s.Groups.Sum(g => g.Nodes.Length));
        for (var g = 0; ; g++)
            if ((n -= s.Groups[g].Nodes.Length) < 0)
                return g;
    }

    /// <summary>A position near another more often than far from it.</summary>
    private int Near(int at, int count)
    {
        if (random.Next(3) == 0)
            return random.Next(count);
        var reach = Math.Min(count - 1, 6);
        return Math.Clamp(at + random.Next((2 * reach) + 1) - reach, 0, count - 1);
    }

    private Solution? MoveOrder(Solution s)
    {
        var from = random.Next(s.Groups.Length);
        var to = Near(from, s.Groups.Length);
        if (from == to)
            return null;
        var list = s.Groups.ToList();
        var group = list[from];
        list.RemoveAt(from);
        list.Insert(to, group);
        return s with { Groups = [.. list] };
    }

    private Solution? SwapOrder(Solution s)
    {
        var a = random.Next(s.Groups.Length);
        var b = Near(a, s.Groups.Length);
        if (a == b)
            return null;
        var groups = (Group[])s.Groups.Clone();
        (groups[a], groups[b]) = (groups[b], groups[a]);
        return s with { Groups = groups };
    }

    private Solution? Reorder(Solution s)
    {
        var a = AnyGroup(s);
        var nodes = (int[])s.Groups[a].Nodes.Clone();
        if (nodes.Length < 2)
            return null;
        if (random.Next(2) == 0)
            nodes = room.Coats.Sorted(nodes, random);
        else
        {
            var (i, j) = (random.Next(nodes.Length), random.Next(nodes.Length));
            (nodes[i], nodes[j]) = (nodes[j], nodes[i]);
        }
        if (room.Maker.Make(nodes) is not { } group)
            return null;
        var groups = (Group[])s.Groups.Clone();
        groups[a] = group;
        return s with { Groups = groups };
    }

    private Solution? Overtime(Solution s)
    {
        var people = room.Shop.People;
        var person = people.Length == 0 ? null : people[random.Next(people.Length)];
        if (person is null || person.Shifts.Count == 0)
            return null;
        var shift = person.Shifts[random.Next(person.Shifts.Count)];
        var until = random.Next(3) == 0 ? 0 : Math.Max(1, shift.FromS + 1);
        return until == s.OvertimeUntilS || shift.NormalToS == shift.ToS ? null : s with { OvertimeUntilS = until };
    }
}
