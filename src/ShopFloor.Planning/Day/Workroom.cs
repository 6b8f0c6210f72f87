using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>A day made ready for planning: the shop, what is left out from the start, the bounds, and a decoder to try solutions with.</summary>
internal sealed partial class Workroom
{
    private readonly LeftOut?[] impossible;
    private readonly int[] pinned;

    public Workroom(Day day, long layoutEffort = 400)
    {
        Shop = ShopBuilder.Build(day);
        Maker = new GroupMaker(Shop, layoutEffort);
        Units = new Units(Shop);
        Coats = new CoatOrder(Shop);
        Decoder = new Decoder(Shop, Maker);
        due = FirstPlan.DueTimes(Shop);
        impossible = new Feasibility(Shop, Maker).Find();
        LeftOut = [.. impossible.Select(l => l is not null)];
        pinned = PinCheck.Pinned(Shop);
    }

    public Shop Shop { get; }

    public GroupMaker Maker { get; }

    public Units Units { get; }

    public CoatOrder Coats { get; }

    public Decoder Decoder { get; }

    /// <summary>Pieces that no plan can finish.</summary>
    public bool[] LeftOut { get; }

    /// <summary>What the search compares: what a solution costs and, where the owner has pinned something, before that how many pieces are left
    /// out and how many pins are not kept. Whoever fails is taken out and the rest placed anew, so that the cost is that of a whole plan.</summary>
    public long Evaluate(Solution solution)
    {
        var value = Value(solution);
        var points = HasPins ? PlanRank.InPoints(Shop.Day, Decoder.FailedCount, PinCheck.Count(Shop, Decoder, pinned), value) : value;
        return points + (NotWhole * Decoder.EmptyRounds().Count()) + (Overbaked * Math.Min(Decoder.OverbakedS(), 1_000_000));
    }

    /// <summary>A round that somebody has shaken for nothing weighs as much as a piece that is left out where something is pinned: more than any
    /// objective. A second by which a running load dwells too long comes next.</summary>
    private const long NotWhole = 1_000_000_000_000_000;

    private const long Overbaked = 1_000_000_000;

    /// <summary>What the plan of a solution costs.</summary>
    public long Value(Solution solution)
    {
        Decoder.Run(solution, LeftOut);
        var before = LeftOut.Count(l => l);
        while (Decoder.FailedCount > before)
        {
            before = Decoder.FailedCount;
            Decoder.Run(solution, (bool[])Decoder.Failed.Clone());
        }
        return Decoder.Cost();
    }

    /// <summary>Whether the plan of a solution keeps every pin.</summary>
    public bool KeepsPins(Solution solution)
    {
        if (!HasPins)
            return true;
        Value(solution);
        return PinCheck.Count(Shop, Decoder, pinned) == 0;
    }

    /// <summary>Whether the owner has pinned something, so that <see cref="Evaluate"/> says more than <see cref="Value"/>.</summary>
    public bool HasPins => pinned.Length > 0;

    /// <summary>The first solution: the best of a few plain orders.</summary>
    public Solution First(out long cost)
    {
        var groups = new FirstPlan(Shop, Maker, Units, LeftOut).Make();
        var (best, bestCost) = ((Solution?)null, long.MaxValue);
        foreach (var solution in Orders(groups))
        {
            var value = Evaluate(solution);
            if (value < bestCost)
                (best, bestCost) = (Decoder.AsPlaced(solution), value);
        }
        (best, bestCost) = WithRunningRoundsServed(best!, bestCost);
        (best, bestCost) = WithThoseLeftOutFirst(best, bestCost);
        (best, cost) = WithPinsKept(best, bestCost);
        return best;
    }

    /// <summary>What runs out of time while others are placed before it (wiped, wet or hot since a while) gets its place if it comes first: as long as that
    /// is better, whoever would be left out is moved to the front and waits for nothing.</summary>
    private (Solution, long) WithThoseLeftOutFirst(Solution best, long bestCost)
    {
        while (true)
        {
            Evaluate(best);
            var failed = Array.FindAll([.. Enumerable.Range(0, Shop.Pieces.Length)], p => Decoder.Failed[p] && !LeftOut[p]);
            if (failed.Length == 0)
                return (best, bestCost);
            var before = bestCost;
            foreach (var next in new[] { AtTheFront(best, failed), OneStepFirst(AtTheFront(best, failed), failed) })
                if (Evaluate(next) is var cost && cost < bestCost)
                    (best, bestCost) = (Decoder.AsPlaced(next), cost);
            if (bestCost == before)
                return (best, bestCost);
        }
    }

    /// <summary>A round that is shaken waits for its first spray not for long: some piece that can be sprayed with it comes to the front, as it is or alone.</summary>
    private (Solution, long) WithRunningRoundsServed(Solution best, long bestCost)
    {
        Evaluate(best);
        foreach (var coating in Decoder.EmptyRounds().Select(r => r.Batch.Coating).ToHashSet(StringComparer.Ordinal))
        foreach (var p in Enumerable.Range(0, Shop.Pieces.Length).Where(p => NextCoating(p) == coating).OrderBy(p => due[Shop.LastNode[p]]))
        foreach (var next in new[] { AtTheFront(best, [p]), AtTheFront(Alone(best, p), [p]) })
            if (Evaluate(next) is var cost && cost < bestCost)
                (best, bestCost) = (Decoder.AsPlaced(next), cost);
        return (best, bestCost);
    }

    /// <summary>What a piece is sprayed with before it meets an oven or a press, or null.</summary>
    private string? NextCoating(int p)
    {
        for (var n = LeftOut[p] ? -1 : Shop.FirstNode[p]; n >= 0 && !Shop.Nodes[n].IsHeated; n = Shop.Nodes[n].Next)
            if (Shop.Nodes[n].IsSpray)
                return Shop.Nodes[n].Step.Coating;
        return null;
    }

    /// <summary>The same with the piece in loads and sessions of its own.</summary>
    private Solution Alone(Solution solution, int piece)
    {
        bool Is(int n) => Shop.Nodes[n].Piece == piece;
        IEnumerable<Group> Parts(Group g) =>
            g.Nodes.Length > 1 && Array.Exists(g.Nodes, Is) && Maker.Make([.. g.Nodes.Where(n => !Is(n))]) is { } others
                ? [others, .. g.Nodes.Where(Is).Select(n => Maker.Make([n])!)]
                : [g];
        return solution with { Groups = [.. solution.Groups.SelectMany(Parts)] };
    }

    /// <summary>Of pieces that wait with a limit all have their next step before any has another: the first coat of all, then the second.</summary>
    private Solution OneStepFirst(Solution solution, int[] pieces)
    {
        var holds = solution.Holds is { } old ? (int[])old.Clone() : new int[Shop.Nodes.Length];
        var firsts = pieces
            .Select(p => Shop.Nodes[Shop.FirstNode[p]])
            .Where(n => n is { IsTight: true, Before: < 0, GivenEnd: > int.MinValue })
            .ToList();
        var until = firsts.Select(n => Math.Max(0, n.GivenEnd + n.MaxLag)).DefaultIfEmpty(0).Max();
        foreach (var first in firsts)
            if (first.Next >= 0)
                holds[first.Next] = until;
        return solution with { Holds = holds };
    }

    private Solution AtTheFront(Solution solution, int[] pieces)
    {
        bool Has(int n) => Array.BinarySearch(pieces, Shop.Nodes[n].Piece) >= 0;
        return solution with
        {
            Groups = [.. solution.Groups.OrderBy(g => Array.Exists(g.Nodes, Has) ? 0 : 1)],
            Holds = solution.Holds is { } holds ? [.. holds.Select((hold, n) => Has(n) ? 0 : hold)] : null,
        };
    }

    /// <summary>The same without waits that gain nothing, so that nobody stands idle before work that could be done: what ends early is safe from
    /// whatever happens later.</summary>
    public Solution WithoutIdleWaits(Solution solution)
    {
        if (solution.Holds is not { } holds)
            return solution;
        var (best, cost) = (solution, Evaluate(solution));
        if (Evaluate(best with { Holds = null }) <= cost)
            return best with { Holds = null };
        var steps = Enumerable.Range(0, holds.Length).Where(n => holds[n] > 0).OrderBy(n => holds[n]).ThenBy(n => n);
        foreach (var n in steps.Take(200_000 / Shop.Nodes.Length))
        {
            var fewer = (int[])best.Holds!.Clone();
            fewer[n] = 0;
            if (Evaluate(best with { Holds = fewer }) <= cost)
                best = best with { Holds = fewer };
        }
        return best;
    }

    /// <summary>A solution made anew as the first one is, with another idea of what is urgent: what is due, what can begin, and chance.</summary>
    public Solution Another(SeededRandom random)
    {
        var (share, spread) = (Math.Pow(random.NextUnit(), 3), 1 + random.Next(random.Next(2) == 0 ? 3_600 : 14_400));
        var urgency = Mixed(share);
        var alike = random.Next(2) == 0;
        var kinds = new int[Coats.Kinds];
        for (var k = 0; k < kinds.Length; k++)
            kinds[k] = alike ? random.Next(spread) : 0;
        for (var p = 0; p < Shop.Pieces.Length; p++)
        {
            var chance = random.Next(alike ? 1 + (spread / 8) : spread) + kinds[Coats.KindOf(p)];
            for (var n = Shop.FirstNode[p]; n >= 0; n = Shop.Nodes[n].Next)
                urgency[n] += chance;
        }
        var groups = MadeBy(urgency);
        if (random.Next(2) == 0)
            groups = [.. groups.OrderBy(g => g.Nodes.Min(n => urgency[n]))];
        if (random.Next(2) == 0)
            groups = [.. groups.Select(g => g.Nodes.Length < 3 ? g : Maker.Make(Coats.Sorted(g.Nodes, random))!)];
        var made = new Solution(groups, 0);
        return HasPins && random.Next(2) == 0 ? PinnedFirst(made) : made;
    }

    private Group[] MadeBy(int[] urgency) => [.. new FirstPlan(Shop, Maker, Units, LeftOut, urgency).Make()];

    /// <summary>Between what can begin soonest (share 0) and what is due soonest (share 1).</summary>
    private int[] Mixed(double share)
    {
        ready ??= FirstPlan.ReadyTimes(Shop);
        return [.. due.Zip(ready, (d, r) => (int)((share * d) + ((1 - share) * r)))];
    }

    private readonly int[] due;
    private int[]? ready;

    /// <summary>Further ideas of what is urgent that the first plan tries; none where making them would take long.</summary>
    private double[] FirstShares =>
        Shop.Pieces.Length switch
        {
            <= 120 => [0.02, 0.15, 0.8],
            <= 600 => [0.05],
            _ => [],
        };

    private IEnumerable<Solution> Orders(List<Group> groups)
    {
        foreach (var solution in PlainOrders(groups))
        {
            yield return solution;
            if (HasPins)
                yield return PinnedFirst(solution);
        }
    }

    /// <summary>The same with all that the owner has pinned at the front, so that nothing else takes its time or place.</summary>
    private Solution PinnedFirst(Solution solution) => AtTheFront(solution, pinned);

    private IEnumerable<Solution> PlainOrders(List<Group> groups)
    {
        int Due(Group g) => g.Nodes.Min(n => due[n]);
        bool IsLoad(Group g) => g.Family >= 0 && Shop.Families[g.Family].IsLoad;
        Group[] made = [.. groups];
        Group[] loadsFirst = [.. groups.OrderBy(g => IsLoad(g) ? 0 : 1)];
        Group[] urgentFirst = [.. groups.OrderBy(Due)];
        foreach (var solution in new StandingOrder(Shop, Maker, LeftOut, due).Solutions(groups))
            yield return solution;
        foreach (var share in FirstShares)
            yield return new Solution(MadeBy(Mixed(share)), 0);
        var overtime = Shop.People.Any(p => p.Shifts.Any(s => s.NormalToS < s.ToS));
        foreach (var order in new[] { made, loadsFirst, urgentFirst })
        {
            yield return new Solution(order, 0);
            if (overtime)
                yield return new Solution(order, Shop.Horizon);
        }
    }

    /// <summary>The plan of a solution.</summary>
    /// <param name="solution">The solution.</param>
    /// <param name="sha">Fingerprint of the day.</param>
    /// <param name="search">How it was found.</param>
    /// <param name="bounds">What no plan can go below, part by part.</param>
    /// <param name="leeway">Whether longest waits get leeway; not where the plan goes on to be searched.</param>
    public Plan Plan(Solution solution, string sha, SearchNote search, PartBounds bounds, bool leeway = true)
    {
        Evaluate(solution);
        Decoder.MakeChangesLate();
        if (leeway)
            Decoder.GiveLeeway();
        var left = (LeftOut?[])impossible.Clone();
        for (var p = 0; p < left.Length; p++)
            if (Decoder.Failed[p] && left[p] is null)
                left[p] = Shortage.Of(Shop, Decoder, impossible, p);
        return PlanMaker.Make(Shop, Maker, Decoder, left, sha, bounds, search);
    }
}
