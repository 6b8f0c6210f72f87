using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>A day made ready for planning: the shop, what is left out from the start, the bounds, and a decoder to try solutions with.</summary>
internal sealed class Workroom
{
    private readonly LeftOut?[] impossible;

    public Workroom(Day day, long layoutEffort = 400)
    {
        Shop = ShopBuilder.Build(day);
        Maker = new GroupMaker(Shop, layoutEffort);
        Units = new Units(Shop);
        Decoder = new Decoder(Shop, Maker);
        impossible = new Feasibility(Shop, Maker).Find();
        LeftOut = [.. impossible.Select(l => l is not null)];
    }

    public Shop Shop { get; }

    public GroupMaker Maker { get; }

    public Units Units { get; }

    public Decoder Decoder { get; }

    /// <summary>Pieces that no plan can finish.</summary>
    public bool[] LeftOut { get; }

    /// <summary>The cost of a solution; whoever fails is taken out and the rest placed anew, so that the cost is that of a whole plan.</summary>
    public static long Evaluate(Decoder decoder, Solution solution, bool[] leftOut)
    {
        decoder.Run(solution, leftOut);
        var before = leftOut.Count(l => l);
        while (decoder.FailedCount > before)
        {
            before = decoder.FailedCount;
            decoder.Run(solution, (bool[])decoder.Failed.Clone());
        }
        return decoder.Cost();
    }

    public long Evaluate(Solution solution) => Evaluate(Decoder, solution, LeftOut);

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
        cost = bestCost;
        return best!;
    }

    private IEnumerable<Solution> Orders(List<Group> groups)
    {
        var due = FirstPlan.DueTimes(Shop);
        int Due(Group g) => g.Nodes.Min(n => due[n]);
        bool IsLoad(Group g) => g.Family >= 0 && Shop.Families[g.Family].IsLoad;
        Group[] made = [.. groups];
        Group[] loadsFirst = [.. groups.OrderBy(g => IsLoad(g) ? 0 : 1)];
        Group[] urgentFirst = [.. groups.OrderBy(Due)];
        var overtime = Shop.People.Any(p => p.Shifts.Any(s => s.NormalToS < s.ToS));
        foreach (var order in new[] { made, loadsFirst, urgentFirst })
        {
            yield return new Solution(order, 0);
            if (overtime)
                yield return new Solution(order, Shop.Horizon);
        }
    }

    /// <summary>The plan of a solution.</summary>
    public Plan Plan(Solution solution, string sha, SearchNote search, IReadOnlyList<long> bounds)
    {
        Evaluate(solution);
        var left = (LeftOut?[])impossible.Clone();
        for (var p = 0; p < left.Length; p++)
            if (Decoder.Failed[p] && left[p] is null)
                left[p] = Why(p);
        return PlanMaker.Make(Shop, Maker, Decoder, left, sha, bounds, search);
    }

    private LeftOut Why(int p)
    {
        var id = Shop.Pieces[p].Id;
        if (Array.Find(Shop.After[p], a => Decoder.Failed[a]) is var other && Shop.After[p].Contains(other) && Decoder.Failed[other])
            return new LeftOut(id, "waits for piece", $"It comes after {Shop.Pieces[other].Id}, which is left out.");
        for (var n = Shop.FirstNode[p]; n >= 0; n = Shop.Nodes[n].Next)
            if (Shop.Nodes[n].IsSpray && Decoder.LacksCoating(Shop.Nodes[n]))
                return new LeftOut(id, "no coating", $"Too little {Shop.Nodes[n].Step.Coating} is left once the other pieces are coated.");
        return new LeftOut(id, "no time", "No time before the end of the plan suits its longest waits, the people and the stations.");
    }
}
