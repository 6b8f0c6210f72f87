namespace ShopFloor.Planning.DayPlans;

/// <summary>Rests on racks. A rest holds its place from the moment it begins; until its end is known it counts as open.</summary>
internal sealed partial class Decoder
{
    private readonly record struct Rest(int Rack, int Node, int From, int To, long Area);

    private readonly List<Rest> rests = [];

    /// <summary>The earliest end of a node at which a rack can take the rest that follows, or the end itself when nothing hinders.</summary>
    private int RackFrom(int n, int end)
    {
        if (!nodes[n].RestAfter || shop.AmpleRack >= 0)
            return end;
        var best = Line.Never;
        for (var r = 0; r < shop.Racks.Length; r++)
            best = Math.Min(best, FreeRack(r, end, shop.RackArea(r, nodes[n].Piece), MinRestAfter(n)));
        return best;
    }

    private int MinRestAfter(int n) => nodes[nodes[n].Next].MinLag;

    private int RackFromAll(Group group, int end)
    {
        if (shop.AmpleRack >= 0)
            return end;
        var t = end;
        var mark = rests.Count;
        for (var i = 0; i < group.Nodes.Length; i++)
        {
            var n = group.Nodes[i];
            if (Failed[nodes[n].Piece] || !nodes[n].RestAfter)
                continue;
            var free = RackFrom(n, t);
            if (free >= Line.Never)
            {
                t = Line.Never;
                break;
            }
            if (free > t)
            {
                // Later for one is later for all: begin again from there.
                t = free;
                i = -1;
                rests.RemoveRange(mark, rests.Count - mark);
                continue;
            }
            var rack = RackFor(n, t);
            rests.Add(new Rest(rack, n, t, Line.Never, shop.RackArea(rack, nodes[n].Piece)));
        }
        rests.RemoveRange(mark, rests.Count - mark);
        return t;
    }

    private int RackFor(int n, int end)
    {
        if (shop.AmpleRack >= 0)
            return shop.AmpleRack;
        for (var r = 0; r < shop.Racks.Length; r++)
            if (FreeRack(r, end, shop.RackArea(r, nodes[n].Piece), MinRestAfter(n)) == end)
                return r;
        return -1;
    }

    /// <summary>The earliest time from which a rack has room to the end of all that is known, and is not down during the shortest rest.</summary>
    private int FreeRack(int r, int from, long area, int shortest)
    {
        var room = shop.Racks[r].AreaUm2;
        if (area > room)
            return Line.Never;
        var t = from;
        foreach (var down in shop.Racks[r].Down)
            if (down.FromS < t + shortest && t < down.ToS)
                t = down.ToS;
        // Going back from the end of time: the last moment at which the rack is too full bounds the start.
        var latest = t;
        foreach (var rest in rests)
        {
            if (rest.Rack != r || rest.To <= t)
                continue;
            var at = Math.Max(t, rest.From);
            var (used, clears) = (area, Line.Never);
            foreach (var other in rests)
                if (other.Rack == r && other.From <= at && at < other.To)
                {
                    used += other.Area;
                    clears = Math.Min(clears, other.To);
                }
            if (used > room)
                latest = Math.Max(latest, clears);
        }
        if (latest == t || latest >= Line.Never)
            return latest;
        return FreeRack(r, latest, area, shortest);
    }

    /// <summary>The latest start of a node whose rest lies on a rack that goes down.</summary>
    private int RackLimit(int n)
    {
        var node = nodes[n];
        if (node.RestStep == 0 || shop.AmpleRack >= 0)
            return Line.Never;
        var rack = node.Before >= 0 ? RackOf[node.Before] : GivenRack(node);
        if (rack < 0)
            return Line.Never;
        var end = EndOfBefore(n);
        foreach (var down in shop.Racks[rack].Down)
            if (down.FromS >= end)
                return down.FromS;
        return Line.Never;
    }

    private int GivenRack(Node node) => givenRack[node.Piece];

    private void OpenRest(int n, int end)
    {
        if (!nodes[n].RestAfter)
            return;
        var rack = RackFor(n, end);
        RackOf[n] = rack;
        if (shop.AmpleRack >= 0)
            return;
        rests.Add(new Rest(rack, n, end, Line.Never, rack < 0 ? 0 : shop.RackArea(rack, nodes[n].Piece)));
        journal.Add(new Undo(UndoKind.Rack, 0, 0, 0, 0));
    }

    private void CloseRest(int n, int start)
    {
        var node = nodes[n];
        if (node.RestStep == 0 || shop.AmpleRack >= 0)
            return;
        var key = node.Before >= 0 ? node.Before : ~node.Piece;
        for (var i = rests.Count - 1; i >= 0; i--)
            if (rests[i].Node == key)
            {
                journal.Add(new Undo(UndoKind.RackClosed, i, rests[i].To, 0, 0));
                rests[i] = rests[i] with { To = start };
                return;
            }
    }
}
