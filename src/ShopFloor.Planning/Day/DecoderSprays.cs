using ShopFloor.Planning.Exchange;

namespace ShopFloor.Planning.DayPlans;

/// <summary>Placing sprays: into a round that is shaken already, or into one of their own; and what that asks of cans, and of ovens that
/// share the booth's air.</summary>
internal sealed partial class Decoder
{
    private readonly List<Round>[] rounds;
    private readonly int[][] canLeft;

    /// <summary>How long a spray may wait for a round that is already shaken, rather than open a new one.</summary>
    public const int WaitForRoundS = 600;

    /// <summary>A spray round as it stands.</summary>
    internal sealed class Round
    {
        public int Coating { get; init; }

        public int Can { get; init; }

        /// <summary>Who shakes and sprays, or -1 when nothing may join the round.</summary>
        public int Person { get; init; }

        public int ShakeStart { get; init; }

        public int End { get; set; }

        public int Sprays { get; set; }

        /// <summary>Position of the running batch that it continues, or -1.</summary>
        public int Given { get; init; } = -1;
    }

    public List<Round>[] Rounds => rounds;

    private int TrySpray(int n)
    {
        var node = nodes[n];
        var (from, latest, wait) = (Earliest(n), Latest(n), patience?[n] ?? WaitForRoundS);
        while (true)
        {
            var best = FindGrowth(n, from, out var booth, out var round);
            // Whoever can wait for the open round needs no new one that would not be sooner than the wait is long.
            var fresh = FindFresh(n, from, best <= latest && best < Line.Never ? best - wait : Line.Never, out var opening);
            var grow = best < Line.Never && best - wait <= fresh && (best <= latest || fresh > latest);
            var t = grow ? best : fresh;
            if (t > latest || t >= Line.Never)
                return t;
            if (RackFrom(n, t + node.Length) is var racked && racked > t + node.Length)
            {
                if (racked >= Line.Never)
                    return Line.Never;
                from = racked - node.Length;
                continue;
            }
            if (grow)
                Grow(n, booth, round, t);
            else
                Open(n, opening, t);
            return -1;
        }
    }

    /// <summary>The earliest spray in a round that has already been shaken.</summary>
    private int FindGrowth(int n, int from, out int booth, out int round)
    {
        var (node, best) = (nodes[n], Line.Never);
        booth = round = -1;
        var pinned = pinDropped[n] ? -1 : node.PinnedStation;
        for (var b = 0; b < booths.Length; b++)
        {
            if (pinned >= 0 && pinned != b)
                continue;
            var list = rounds[b];
            for (var r = list.Count - 1; r >= 0 && r >= list.Count - 24; r--)
            {
                var candidate = list[r];
                if (candidate.Coating != node.Coating || canLeft[node.Coating][candidate.Can] < node.Step.Ul)
                    continue;
                if (candidate.Person < 0)
                    continue;
                var t = GrowthAt(b, candidate, from, node.Length);
                if (t < best)
                    (best, booth, round) = (t, b, r);
            }
        }
        return best;
    }

    private int GrowthAt(int booth, Round round, int from, int length)
    {
        var latest = (long)round.End + shop.Coatings[round.Coating].ShakeAgainAfterS;
        var t = Math.Max(from, round.End);
        while (t <= latest)
        {
            var free = people[round.Person].Free(t, length);
            var cold = ColdFrom(booth, free, length, out var switchOff);
            if (cold == free && !switchOff)
            {
                var can = shop.Cans[round.Coating][round.Can];
                var ends = free + length;
                return free <= latest && booths[booth].IsFree(round.End, ends) && ends <= (can.UseByS ?? Line.Never) ? free : Line.Never;
            }
            if (switchOff)
                return Line.Never;
            t = cold;
        }
        return Line.Never;
    }

    private void Grow(int n, int booth, int r, int t)
    {
        var (round, node) = (rounds[booth][r], nodes[n]);
        var end = t + node.Length;
        Take(people, PersonLines, round.Person, t, end);
        // The gap before it is taken too: nothing else may be done in the booth during a round.
        Take(booths, BoothLines, booth, round.End, end);
        journal.Add(new Undo(UndoKind.RoundGrown, booth, r, round.End, node.Step.Ul));
        round.End = end;
        round.Sprays++;
        canLeft[round.Coating][round.Can] -= node.Step.Ul;
        RoundOf[n] = r;
        Set(n, t, end, round.Person, booth);
    }

    private void UndoGrowth(int booth, int r, int end, int ul)
    {
        var round = rounds[booth][r];
        round.End = end;
        round.Sprays--;
        canLeft[round.Coating][round.Can] += ul;
    }

    /// <summary>How a round would begin: where, by whom, from which can, and when it is shaken.</summary>
    private readonly record struct Opening(int Booth, int Person, int Can, int Shake);

    /// <summary>The earliest spray before a time with a shake before it, at once or within the time for which a shake lasts; else never.</summary>
    private int FindFresh(int n, int from, int before, out Opening opening)
    {
        opening = default;
        if (from >= before)
            return Line.Never;
        var (node, best) = (nodes[n], before);
        var shake = shop.Coatings[node.Coating].ShakeS;
        var pinned = pinDropped[n] ? -1 : node.PinnedStation;
        for (var b = 0; b < booths.Length; b++)
        {
            if (pinned >= 0 && pinned != b)
                continue;
            foreach (var p in shop.PeopleFor[(int)StationKind.Booth])
            {
                var t = FreshAt(b, p, Math.Max(0, from - shake), shake + node.Length, best);
                var at = t;
                if (t > from - shake && EarlyShake(n, b, p, from, Math.Min(t, best - shake)) is var (early, spray))
                    (at, t) = (early, spray - shake);
                if (t >= Line.Never || t + shake >= best)
                    continue;
                var chosen = CanFor(node, t + shake + node.Length);
                if (chosen >= 0)
                    (best, opening) = (t + shake, new Opening(b, p, chosen, at));
            }
        }
        return best < before ? best : Line.Never;
    }

    /// <summary>The latest shake for the earliest spray before a time, when something else is done between the two; or null.</summary>
    private (int Shake, int Spray)? EarlyShake(int n, int booth, int person, int from, int before)
    {
        var (coating, length) = (shop.Coatings[nodes[n].Coating], nodes[n].Length);
        var spray = Both(people[person], booths[booth], Math.Max(from, coating.ShakeS), length, before + coating.ShakeS);
        if (spray >= before + coating.ShakeS)
            return null;
        var least = Math.Max(0, spray - coating.ShakeAgainAfterS - coating.ShakeS);
        var shake = people[person].FreeLatest(least, spray - coating.ShakeS, coating.ShakeS);
        return
            shake >= 0
            && booths[booth].IsFree(shake, spray + length)
            && ColdFrom(booth, shake, spray + length - shake, out var switchOff) == shake
            && !switchOff
            ? (shake, spray)
            : null;
    }

    private int FreshAt(int booth, int person, int from, int length, int giveUpAt)
    {
        var t = from;
        while (t < giveUpAt)
        {
            var free = Both(people[person], booths[booth], t, length, giveUpAt);
            if (free >= Line.Never)
                return Line.Never;
            t = ColdFrom(booth, free, length, out _);
            if (t == free)
                return t;
        }
        return Line.Never;
    }

    private int CanFor(Node node, int end)
    {
        var cans = shop.Cans[node.Coating];
        for (var c = 0; c < cans.Length; c++)
            if (canLeft[node.Coating][c] >= node.Step.Ul && end <= (cans[c].UseByS ?? Line.Never))
                return c;
        return -1;
    }

    /// <summary>Whether no can holds what the node needs any more.</summary>
    public bool LacksCoating(Node node) => Array.TrueForAll(canLeft[node.Coating], left => left < node.Step.Ul);

    /// <summary>What all cans of a coating hold together once everything placed is sprayed, in µl.</summary>
    public long LeftOf(int coating) => canLeft[coating].Sum(left => (long)left);

    private void Open(int n, Opening opening, int t)
    {
        var (node, booth, person, can) = (nodes[n], opening.Booth, opening.Person, opening.Can);
        var (shaken, end) = (opening.Shake + shop.Coatings[node.Coating].ShakeS, t + node.Length);
        SwitchOffFor(booth, opening.Shake, end - opening.Shake);
        if (shaken < t)
            Take(people, PersonLines, person, opening.Shake, shaken);
        Take(people, PersonLines, person, shaken < t ? t : opening.Shake, end);
        Take(booths, BoothLines, booth, opening.Shake, end);
        rounds[booth]
            .Add(
                new Round
                {
                    Coating = node.Coating,
                    Can = can,
                    Person = person,
                    ShakeStart = opening.Shake,
                    End = end,
                    Sprays = 1,
                }
            );
        canLeft[node.Coating][can] -= node.Step.Ul;
        journal.Add(new Undo(UndoKind.RoundNew, booth, node.Step.Ul, 0, 0));
        RoundOf[n] = rounds[booth].Count - 1;
        Set(n, t, end, person, booth);
    }

    private void UndoRound(int booth, int ul)
    {
        var list = rounds[booth];
        canLeft[list[^1].Coating][list[^1].Can] += ul;
        list.RemoveAt(list.Count - 1);
    }

    /// <summary>The earliest start at which no oven that shares the booth's air is hot; an oven hot to the end can be switched off.</summary>
    private int ColdFrom(int booth, int from, int length, out bool switchOff)
    {
        switchOff = false;
        var t = from;
        var ovens = shop.SharedOvens[booth];
        for (var i = 0; i < ovens.Length; i++)
        {
            var (line, place) = (heated[ovens[i]], shop.Heated[ovens[i]]);
            var cold = line.Cold(t, length, place.Oven!.HotAboveTenthsC);
            if (cold >= Line.Never)
            {
                if (shop.Day.RoomTenthsC > place.Oven.HotAboveTenthsC)
                    return Line.Never;
                cold = Math.Max(t, SwitchOffEnd(ovens[i]));
                switchOff = true;
            }
            if (cold == t)
                continue;
            t = cold;
            i = -1;
            if (t >= Line.Never)
                return Line.Never;
        }
        return t;
    }

    private int SwitchOffEnd(int h)
    {
        var change = shop.Heated[h].ChangeS(heated[h].LastHeld, shop.Day.RoomTenthsC);
        return Math.Min(Line.Never, heated[h].Taken.Free(heated[h].LastEnd, change) + change);
    }

    private void SwitchOffFor(int booth, int from, int length)
    {
        foreach (var h in shop.SharedOvens[booth])
        {
            var oven = shop.Heated[h].Oven!;
            if (heated[h].Cold(from, length, oven.HotAboveTenthsC) < Line.Never)
                continue;
            var end = SwitchOffEnd(h);
            var change = shop.Heated[h].ChangeS(heated[h].LastHeld, shop.Day.RoomTenthsC);
            AddChange(h, end - change, end, shop.Day.RoomTenthsC);
        }
    }
}
