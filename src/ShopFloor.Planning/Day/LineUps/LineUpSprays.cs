namespace ShopFloor.Planning.DayPlans;

/// <summary>Changes of rounds: which sprays stand beside one another, who waits for whom, and when a can is shaken.</summary>
internal sealed partial class LineUpMoves
{
    /// <summary>A spray comes to stand beside another of its coating.</summary>
    private bool Meet(LineUp line) => AnySpray() is var n && Fellow(line, n) is var fellow and >= 0 && Beside(line, n, fellow);

    /// <summary>A spray of the same coating and can, near rather than far; or -1.</summary>
    private int Fellow(LineUp line, int spray)
    {
        var found = -1;
        for (var tries = 0; tries < 24 && (found < 0 || random.Next(3) > 0); tries++)
            if (AnySpray() is var n && CanShare(line, n, spray) && (found < 0 || Distance(line, n, spray) < Distance(line, found, spray)))
                found = n;
        return found;
    }

    private static int Distance(LineUp line, int a, int b) => Math.Abs(line.Position[a] - line.Position[b]);

    /// <summary>Whether a spray could be in one round with another.</summary>
    private bool CanShare(LineUp line, int fellow, int spray) =>
        fellow != spray
        && shop.Nodes[fellow].Coating == shop.Nodes[spray].Coating
        && line.Can[fellow] == line.Can[spray]
        && (shop.Nodes[spray].PinnedStation < 0 || line.Booth[fellow] == line.Booth[spray]);

    private void Follow(LineUp line, int spray, int fellow)
    {
        (line.Joins[spray], line.Person[spray], line.Booth[spray]) = (true, line.Person[fellow], line.Booth[fellow]);
        LoseShake(line, spray);
    }

    private bool Beside(LineUp line, int n, int fellow)
    {
        Follow(line, n, fellow);
        var (from, to) = (line.Position[n], line.Position[fellow]);
        var across = random.Next(2) == 0;
        if (to < from)
            return ties.Earlier(line, n, across ? to : to + 1, fellow);
        return ties.Later(line, n, across ? to : to - 1, fellow);
    }

    /// <summary>The sprays that lead to members of a batch come to stand beside others of their coating, if there are any near.</summary>
    private void Gather(LineUp line, ReadOnlySpan<int> members)
    {
        foreach (var n in members)
            for (var m = shop.Nodes[n].Before; m >= 0 && !shop.Nodes[m].IsHeated; m = shop.Nodes[m].Before)
                if (shop.Nodes[m].IsSpray)
                    Gather(line, m);
    }

    private void Gather(LineUp line, int spray)
    {
        LoseShake(line, spray);
        var (low, high, best) = (ties.Lowest(line, spray), ties.Highest(line, spray), -1);
        foreach (var n in sprays)
            if (CanShare(line, n, spray) && line.Position[n] >= low - 1 && line.Position[n] <= high + 1)
                if (best < 0 || Distance(line, n, spray) < Distance(line, best, spray))
                    best = n;
        if (best < 0)
            return;
        Follow(line, spray, best);
        var (from, to) = (line.Position[spray], line.Position[best]);
        to = to < from ? to + 1 : to - 1;
        if (to != from && to >= low && to <= high)
            Put(line, from, to);
    }

    /// <summary>Those before a spray wait for it, or no longer; or the shake before it becomes an op by itself, or no longer.</summary>
    private bool Flip(LineUp line)
    {
        var n = AnySpray();
        if (line.HasShake(n))
            LoseShake(line, n);
        else if (isShaken[n] && personBefore[n] is var before and >= 0 && !at.IsGiven(before))
            line.Insert(at.ShakeOf(n), line.Position[before], line.Person[n]);
        else
            line.Joins[n] = !line.Joins[n];
        return true;
    }

    private void LoseShake(LineUp line, int op)
    {
        if (at.IsStep(op) && line.HasShake(op))
            line.Remove(at.ShakeOf(op));
    }
}
