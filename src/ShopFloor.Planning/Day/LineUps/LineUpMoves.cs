using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Small changes of a line-up: who does what, who comes first, which sprays share a round, who shares a load or a session. Each
/// changes the line-up in place and says whether it did; a change that is not wanted is thrown away with the line-up.</summary>
internal sealed partial class LineUpMoves
{
    private const int Reach = 8;
    private const int FarReach = 60;
    private const int MostTogether = 6;

    private readonly LineUpShop at;
    private readonly Shop shop;
    private readonly SeededRandom random;
    private readonly LineUpTies ties;
    private readonly LineUpCritical critical;
    private readonly int[] sprays;
    private readonly int[] heatedNodes;
    private readonly bool[] isShaken;
    private readonly int[] stationBefore;
    private readonly int[] personBefore;

    /// <summary>The moves.</summary>
    /// <param name="at">The day.</param>
    /// <param name="random">Draws them.</param>
    public LineUpMoves(LineUpShop at, SeededRandom random)
    {
        (this.at, shop, this.random) = (at, at.Shop, random);
        (ties, critical) = (new LineUpTies(at), new LineUpCritical(at));
        (isShaken, stationBefore, personBefore) = (new bool[shop.Nodes.Length], new int[at.Ops], new int[at.Ops]);
        sprays = [.. shop.Nodes.Where(n => n.IsSpray && at.IsPlanned[n.Piece]).Select(n => n.Index)];
        heatedNodes = [.. shop.Nodes.Where(n => n.IsHeated && at.IsPlanned[n.Piece]).Select(n => n.Index)];
    }

    /// <summary>Takes times for those of the line-up that is changed from now on.</summary>
    public void LookAt(LineUpTimes times)
    {
        times.IsShaken.CopyTo(isShaken, 0);
        times.StationBefore.CopyTo(stationBefore, 0);
        times.PersonBefore.CopyTo(personBefore, 0);
        critical.LookAt(times);
    }

    /// <summary>Draws a change and makes it.</summary>
    public bool Change(LineUp line)
    {
        if (line.Count < 2)
            return false;
        var kind = random.Next(32);
        if (kind < 4)
            return Hop(line, Any(line));
        if (kind < 10)
            return Hop(line, critical.Any(line, random));
        if (kind < 15)
            return kind < 11 ? ShiftSome(line)
                : kind < 12 ? OtherPerson(line)
                : Drag(line);
        if (kind < 21)
            return sprays.Length > 0 && (kind < 19 ? Meet(line) : Flip(line));
        return heatedNodes.Length > 0
            && kind switch
            {
                < 25 => MoveMember(line),
                < 28 => ExchangeMembers(line),
                < 29 => Part(line),
                < 30 => Merge(line),
                < 31 => SwapBatches(line),
                _ => OtherPlace(line),
            };
    }

    private int Any(LineUp line) => line.Sequence[random.Next(line.Count)];

    private int AnySpray() => sprays[random.Next(sprays.Length)];

    private int[] Able(LineUp line, int op) =>
        at.IsStep(op) ? shop.PeopleFor[(int)shop.Nodes[op].Step.Station]
        : at.IsBatch(op) ? shop.PeopleFor[(int)(line.Batches[at.BatchAt(op)]!.IsLoad ? StationKind.Oven : StationKind.Press)]
        : [];

    /// <summary>An op changes places with some before or behind it that its person does, or goes among another's.</summary>
    private bool Hop(LineUp line, int op)
    {
        if (at.IsGiven(op))
            return false;
        var person = line.Person[op];
        if (random.Next(4) == 0 && Able(line, op) is { Length: > 1 } some)
            person = some[random.Next(some.Length)];
        var other = person != line.Person[op];
        if (other)
            LoseShake(line, op);
        line.Person[op] = person;
        var (from, later) = (line.Position[op], random.Next(5) < 2);
        var to = NthOf(line, person, from, later, 1 + random.Next(random.Next(3) == 0 ? 12 : 3));
        if (to == from)
            return other;
        if (to >= ties.Lowest(line, op) && to <= ties.Highest(line, op))
            return Put(line, from, to);
        return later ? ties.Later(line, op, to) : ties.Earlier(line, op, to);
    }

    /// <summary>Where the n-th op of a person before or behind a place stands.</summary>
    private static int NthOf(LineUp line, int person, int from, bool later, int n)
    {
        var to = from;
        for (var i = later ? from + 1 : from - 1; n > 0 && i >= 0 && i < line.Count; i += later ? 1 : -1)
            if (line.Person[line.Sequence[i]] == person)
                (to, n) = (i, n - 1);
        return to;
    }

    private static bool Put(LineUp line, int from, int to)
    {
        var (sequence, op) = (line.Sequence, line.Sequence[from]);
        if (from < to)
            Array.Copy(sequence, from + 1, sequence, from, to - from);
        else
            Array.Copy(sequence, to, sequence, to + 1, from - to);
        sequence[to] = op;
        for (var i = Math.Min(from, to); i <= Math.Max(from, to); i++)
            line.Position[sequence[i]] = i;
        return true;
    }

    /// <summary>Some ops in a row come earlier or later together.</summary>
    private bool ShiftSome(LineUp line)
    {
        var count = 2 + random.Next(MostTogether - 1);
        var from = random.Next(Math.Max(1, line.Count - count + 1));
        var to = from + random.Next((2 * Reach) + 1) - Reach;
        if (from + count > line.Count || to < 0 || to + count > line.Count || to == from)
            return false;
        for (var i = 0; i < count; i++)
        {
            // The last come first when they go on behind, so that each finds the way free.
            var k = to > from ? count - 1 - i : i;
            var op = line.Sequence[from + k];
            if (at.IsGiven(op) || to + k < ties.Lowest(line, op) || to + k > ties.Highest(line, op))
                return false;
            Put(line, from + k, to + k);
        }
        return true;
    }

    /// <summary>An op, or a round whole, by another person at the same place.</summary>
    private bool OtherPerson(LineUp line)
    {
        var op = Any(line) is var drawn && at.IsShake(drawn) ? at.SprayOf(drawn) : drawn;
        if (Able(line, op) is not { Length: > 1 } some || some[random.Next(some.Length)] is var person && person == line.Person[op])
            return false;
        line.Person[op] = person;
        if (!at.IsStep(op) || !shop.Nodes[op].IsSpray)
            return true;
        foreach (var n in RoundOf(op))
        {
            line.Person[n] = person;
            LoseShake(line, n);
        }
        return true;
    }

    /// <summary>The sprays of one round as last placed.</summary>
    private List<int> RoundOf(int spray)
    {
        var first = spray;
        while (!isShaken[first] && stationBefore[first] is var before && at.IsStep(before) && before >= 0)
            first = before;
        var round = new List<int> { first };
        while (Array.FindIndex(sprays, n => stationBefore[n] == round[^1] && !isShaken[n]) is var next and >= 0)
            round.Add(sprays[next]);
        return round;
    }

    /// <summary>An op comes earlier or later with all that must go with it.</summary>
    private bool Drag(LineUp line)
    {
        var op = Any(line);
        if (at.IsGiven(op))
            return false;
        var to = Math.Clamp(line.Position[op] + random.Next((2 * FarReach) + 1) - FarReach, 0, line.Count - 1);
        if (to == line.Position[op])
            return false;
        return to < line.Position[op] ? ties.Earlier(line, op, to) : ties.Later(line, op, to);
    }
}
