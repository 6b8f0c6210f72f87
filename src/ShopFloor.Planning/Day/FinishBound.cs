using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Before when the last attended work of a day cannot end. For a supposed end every step has a window (<see cref="StepWindows"/>); the
/// end is too early when within some span people, booths or ovens would have more to do than they can (energetic reasoning: P. Baptiste,
/// C. Le Pape, W. Nuijten, Constraint-Based Scheduling, 2001, chapter 3; from memory). The smallest end that is not refuted is the bound.</summary>
internal sealed class FinishBound
{
    /// <summary>About so many looks at a job for all spans of one supposed end.</summary>
    private const long MostLooks = 400_000;

    /// <summary>Counting loads takes so many times as long as looking at a job.</summary>
    private const int LooksAtMember = 20;

    private readonly Shop shop;
    private readonly ShiftTimes shifts;
    private readonly StepWindows windows;
    private readonly List<Node> nodes;
    private readonly FamilyNeed needs;

    /// <summary>The bound of a day.</summary>
    /// <param name="shop">The day.</param>
    /// <param name="leftOut">Pieces that do not count.</param>
    /// <param name="needs">Counts loads and sessions.</param>
    /// <param name="keepPins">Only plans count that keep all pins.</param>
    /// <param name="together">Families of which only plans count that have all in one load.</param>
    public FinishBound(Shop shop, bool[] leftOut, FamilyNeed needs, bool keepPins = false, IReadOnlyList<int>? together = null)
    {
        (this.shop, this.needs) = (shop, needs);
        shifts = new ShiftTimes(shop);
        windows = new StepWindows(shop, leftOut, shifts, keepPins, together ?? []);
        nodes = [.. shop.Nodes.Where(n => !leftOut[n.Piece])];
    }

    /// <summary>Before when the last step of each piece cannot end, shifts included; pieces without open steps are not among them.</summary>
    public IEnumerable<(int Piece, long End)> Ends() =>
        nodes.Where(n => n.Next < 0 && windows.End[n.Index] < Line.Never).Select(n => (n.Piece, (long)windows.End[n.Index]));

    /// <summary>The longest way of one piece, shifts included.</summary>
    public long LongestPiece() => Ends().Select(e => e.End).DefaultIfEmpty().Max();

    /// <summary>The bound, at least a given one; when even the whole plan is too short for everything, only what holds for each piece.</summary>
    public long Find(long least)
    {
        var longest = LongestPiece();
        if (!CanEndBy(shop.Horizon))
            return Math.Max(least, longest);
        var (low, high) = ((int)Math.Max(least, longest), shop.Horizon);
        if (low > high || CanEndBy(low))
            return low;
        while (high - low > 1)
        {
            var middle = low + ((high - low) / 2);
            if (CanEndBy(middle))
                high = middle;
            else
                low = middle;
        }
        return high;
    }

    /// <summary>Whether nothing refutes that all work is done by a time.</summary>
    private bool CanEndBy(int time)
    {
        if (!windows.EndBy(time))
            return false;
        var members = nodes.Where(n => n.IsHeated).Select(n => new Member(n, windows.Start[n.Index], windows.LatestEnd[n.Index])).ToList();
        var (people, booth) = (Hands(members), Sprays());
        people.AddRange(booth);
        return Fits(people, shifts.Of)
            && Fits(booth, (from, to) => (long)shop.Booths.Length * (to - from))
            && OvensFit([.. members.Where(m => shop.Families[m.Node.Family].IsLoad)]);
    }

    /// <summary>One piece's part in a load or session, with its window.</summary>
    internal readonly record struct Member(Node Node, int From, int To);

    private readonly record struct Job(int From, int To, int Length)
    {
        /// <summary>Seconds of it that lie within a span wherever it is put.</summary>
        public int Within(int from, int to) =>
            Math.Max(0, Math.Min(Math.Min(Length, to - from), Math.Min(From + Length - from, to - (To - Length))));
    }

    private List<Job> Sprays()
    {
        var jobs = new List<Job>();
        foreach (var coating in nodes.Where(n => n.IsSpray).GroupBy(n => n.Coating))
        {
            jobs.AddRange(coating.Select(n => new Job(windows.Start[n.Index], windows.LatestEnd[n.Index], n.Length)));
            var shake = shop.Coatings[coating.Key];
            var from = coating.Min(n => windows.Start[n.Index]) - shake.ShakeAgainAfterS - shake.ShakeS;
            if (!Array.Exists(shop.Running.Batches, b => b.Shake is not null))
                jobs.Add(new Job(Math.Max(0, from), coating.Max(n => windows.LatestEnd[n.Index] - n.Length), shake.ShakeS));
        }
        return jobs;
    }

    /// <summary>Everybody's work but spraying.</summary>
    private List<Job> Hands(List<Member> members)
    {
        var jobs = nodes
            .Where(n => !n.IsHeated && !n.IsSpray)
            .Select(n => new Job(windows.Start[n.Index], windows.LatestEnd[n.Index], n.Length))
            .ToList();
        foreach (var family in members.GroupBy(m => m.Node.Family))
        {
            var (hands, isLoad) = (windows.HandlingOf(family.Key)!, shop.Families[family.Key].IsLoad);
            var least = family.Min(m => m.Node.Step.MinS);
            var (from, to, count) = (family.Min(m => m.From), family.Max(m => m.To), needs.Count(family.Select(m => m.Node)));
            foreach (var m in family)
            {
                jobs.Add(
                    new Job(m.From, m.To - (isLoad ? m.Node.Step.MinS + hands.OutS + hands.OutEachS : m.Node.Step.MinS), hands.InEachS)
                );
                if (isLoad)
                    jobs.Add(new Job(m.From + hands.InS + hands.InEachS + m.Node.Step.MinS, m.To, hands.OutEachS));
            }
            for (var k = 0; k < count; k++)
                if (isLoad)
                {
                    jobs.Add(new Job(from, to - least - hands.OutS, hands.InS));
                    jobs.Add(new Job(from + hands.InS + least, to, hands.OutS));
                }
                else
                    jobs.Add(new Job(from, to, hands.InS + least));
        }
        return jobs;
    }

    /// <summary>Whether no span holds more work than there is room for it.</summary>
    private bool Fits(List<Job> jobs, Func<int, int, long> room)
    {
        var (starts, ends) = (Some(jobs.Select(j => j.From), jobs.Count), Some(jobs.Select(j => j.To), jobs.Count));
        foreach (var from in starts)
        foreach (var to in ends)
        {
            if (to <= from)
                continue;
            var (work, most) = (0L, room(from, to));
            for (var j = 0; j < jobs.Count && work <= most; j++)
                work += jobs[j].Within(from, to);
            if (work > most)
                return false;
        }
        return true;
    }

    /// <summary>The same for ovens, where work comes in whole loads.</summary>
    private bool OvensFit(List<Member> members)
    {
        var ovens = shop.Heated.Count(h => h.IsOven);
        var looks = members.Count * LooksAtMember;
        var (starts, ends) = (Some(members.Select(m => m.From), looks), Some(members.Select(m => m.To), looks));
        foreach (var from in starts)
        foreach (var to in ends)
        {
            var inside = members.Where(m => m.From >= from && m.To <= to).GroupBy(m => m.Node.Family).ToList();
            if (inside.Count > 0 && inside.Sum(OvenTime) + ChangeTime(inside) > (long)ovens * (to - from))
                return false;
        }
        return true;
    }

    private long OvenTime(IGrouping<int, Member> family)
    {
        var hands = windows.HandlingOf(family.Key)!;
        var count = needs.Count(family.Select(m => m.Node));
        return (count * (hands.InS + hands.OutS))
            + (family.Count() * (long)(hands.InEachS + hands.OutEachS))
            + needs.Dwell(family.Select(m => m.Node));
    }

    // Between loads of more temperatures than there are ovens somebody waits for a change.
    private long ChangeTime(List<IGrouping<int, Member>> families)
    {
        var tenths = families.Select(f => shop.Families[f.Key].TenthsC).Distinct().ToList();
        var ovens = shop.Heated.Where(h => h.IsOven).ToList();
        var changes = tenths.Count - ovens.Count;
        return changes <= 0 ? 0 : changes * (long)ovens.Min(o => tenths.Min(a => tenths.Where(b => b != a).Min(b => o.ChangeS(a, b))));
    }

    /// <summary>Different times, the first and the last among them, not more than looking at all jobs for every pair allows.</summary>
    private static List<int> Some(IEnumerable<int> times, int jobs)
    {
        var all = times.Distinct().Order().ToList();
        var most = (int)Math.Clamp(Math.Sqrt(MostLooks / (double)Math.Max(1, jobs)), 2, 60);
        return all.Count <= most ? all : [.. Enumerable.Range(0, most).Select(i => all[(int)((long)i * (all.Count - 1) / (most - 1))])];
    }
}
