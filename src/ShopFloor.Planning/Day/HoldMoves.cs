namespace ShopFloor.Planning.DayPlans;

/// <summary>Moves of the search that let steps wait: so that sprays of one coating meet in one round, or a person is free for something else.
/// They look at the times of the solution that the chain stands at.</summary>
internal sealed class HoldMoves(Workroom room, PlacedTimes times, SeededRandom random)
{
    private readonly Shop shop = room.Shop;
    private readonly int[] sprays = [.. room.Shop.Nodes.Where(n => n.IsSpray).Select(n => n.Index)];
    private readonly int[] start = times.Start;
    private readonly int[] end = times.End;
    private readonly int[] round = times.Round;
    private readonly int[] person = times.Person;
    private readonly int[] booth = times.Station;

    /// <summary>A solution that differs in what waits, or null.</summary>
    public Solution? Change(Solution s) =>
        random.Next(12) switch
        {
            < 3 => Meet(s),
            < 4 => Align(s),
            < 5 => GiveWay(s),
            < 6 => Wait(s),
            < 8 => Earlier(s),
            < 10 => MakeRoom(s),
            _ => LetGo(s),
        };

    /// <summary>A spray, or its whole round, waits for a later round of the same coating.</summary>
    private Solution? Meet(Solution s)
    {
        if (sprays.Length < 2)
            return null;
        var n = sprays[random.Next(sprays.Length)];
        var m = Later(n);
        if (m < 0)
            return null;
        var held = Copy(s.Holds, 0);
        var behind = random.Next(2) == 0;
        var whole = random.Next(2) == 0;
        var t = behind ? RoundEnd(m) : RoundStart(m);
        var members = sprays.Where(x => x == n || (whole && SameRound(x, n))).OrderByDescending(x => start[x]).ToList();
        if (!behind)
            t -= members.Sum(x => shop.Nodes[x].Length);
        foreach (var x in members.AsEnumerable().Reverse())
        {
            held[x] = Math.Max(0, t);
            t += shop.Nodes[x].Length;
        }
        var waits = Copy(s.Patience, Decoder.WaitForRoundS);
        foreach (var x in members)
            waits[x] = 7_200;
        waits[m] = 7_200;
        return s with { Holds = held, Patience = waits };
    }

    private bool SameRound(int a, int b) => start[a] >= 0 && booth[a] == booth[b] && round[a] == round[b];

    private int RoundEnd(int n) => sprays.Where(x => SameRound(x, n)).Max(x => end[x]);

    private int RoundStart(int n) => sprays.Where(x => SameRound(x, n)).Min(x => start[x]);

    /// <summary>A spray of the same coating in the next round after that of a spray, or -1.</summary>
    private int Later(int n)
    {
        var best = -1;
        if (start[n] < 0)
            return -1;
        foreach (var m in sprays)
            if (
                start[m] > start[n]
                && shop.Nodes[m].Coating == shop.Nodes[n].Coating
                && !SameRound(m, n)
                && (best < 0 || start[m] < start[best])
            )
                best = m;
        return best;
    }

    /// <summary>A step waits until another ends.</summary>
    private Solution? Align(Solution s)
    {
        var n = random.Next(start.Length);
        var (t, tries) = (-1, 0);
        while (start[n] >= 0 && tries++ < 12)
        {
            var m = random.Next(start.Length);
            if (end[m] > start[n] && end[m] < start[n] + 3_600 && (t < 0 || end[m] < t))
                t = end[m];
        }
        if (t < 0)
            return null;
        var held = Copy(s.Holds, 0);
        held[n] = t;
        return s with { Holds = held };
    }

    /// <summary>A round comes so much earlier that one of its sprays follows at once on what is before it.</summary>
    private Solution? Earlier(Solution s)
    {
        if (sprays.Length == 0 || s.Holds is null)
            return null;
        var n = sprays[random.Next(sprays.Length)];
        var node = shop.Nodes[n];
        if (start[n] < 0 || node.Before < 0)
            return null;
        var slack = start[n] - Math.Max(node.Ready, end[node.Before] + node.MinLag);
        var held = Copy(s.Holds, 0);
        var any = false;
        foreach (var x in sprays)
            if (slack > 0 && SameRound(x, n) && start[x] <= start[n])
                (held[x], any) = (Math.Max(0, start[x] - slack), true);
        return any ? s with { Holds = held } : null;
    }

    /// <summary>A step begins later by a shake, so that a round soon after it can be shaken before it.</summary>
    private Solution? MakeRoom(Solution s)
    {
        if (sprays.Length == 0)
            return null;
        var n = sprays[random.Next(sprays.Length)];
        var (coating, x) = (shop.Coatings[shop.Nodes[n].Coating], -1);
        for (var tries = 0; tries < 40 && x < 0 && start[n] >= 0; tries++)
            if (
                random.Next(start.Length) is var m
                && start[m] >= 0
                && start[m] <= start[n]
                && start[m] >= start[n] - coating.ShakeAgainAfterS - coating.ShakeS
            )
                x = m;
        if (x < 0)
            return null;
        var held = Copy(s.Holds, 0);
        held[x] = start[x] + coating.ShakeS;
        return s with { Holds = held };
    }

    /// <summary>A step lets the next one of the same person go first.</summary>
    private Solution? GiveWay(Solution s)
    {
        var n = random.Next(start.Length);
        var m = -1;
        for (var x = 0; x < start.Length && start[n] >= 0; x++)
            if (start[x] >= end[n] && person[x] == person[n] && (m < 0 || start[x] < start[m]))
                m = x;
        if (m < 0)
            return null;
        var held = Copy(s.Holds, 0);
        (held[n], held[m]) = (start[n] + end[m] - start[m], 0);
        return s with { Holds = held };
    }

    private Solution? Wait(Solution s)
    {
        if (sprays.Length == 0)
            return null;
        int[] some = [0, 120, Decoder.WaitForRoundS, 1_800, 7_200];
        var waits = Copy(s.Patience, Decoder.WaitForRoundS);
        waits[sprays[random.Next(sprays.Length)]] = some[random.Next(some.Length)];
        return s with { Patience = waits };
    }

    private Solution? LetGo(Solution s)
    {
        if (s.Holds is null)
            return null;
        int[] which = [.. Enumerable.Range(0, start.Length).Where(n => s.Holds[n] > 0)];
        if (which.Length == 0)
            return null;
        var held = Copy(s.Holds, 0);
        held[which[random.Next(which.Length)]] = 0;
        return s with { Holds = held };
    }

    private int[] Copy(int[]? of, int otherwise)
    {
        if (of is not null)
            return (int[])of.Clone();
        var made = new int[start.Length];
        Array.Fill(made, otherwise);
        return made;
    }
}
