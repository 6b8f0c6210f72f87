namespace ShopFloor.Planning.DayPlans;

/// <summary>Rests on racks. A rest holds its place from the moment it begins; until its end is known it counts as open.</summary>
internal sealed partial class Decoder
{
    private readonly RackLine[] rackLines;

    /// <summary>The earliest end of a node at which a rack can take the rest that follows, or the end itself when nothing hinders.</summary>
    private int RackFrom(int n, int end)
    {
        if (!nodes[n].RestAfter || shop.AmpleRack >= 0)
            return end;
        var best = Line.Never;
        for (var r = 0; r < shop.Racks.Length; r++)
            if (MayLie(n, r))
                best = Math.Min(best, FreeRack(r, end, shop.RackArea(r, nodes[n].Piece), MinRestAfter(n)));
        return best;
    }

    /// <summary>Whether the rest after a node may lie on a rack: a pin to another one is kept until it is given up.</summary>
    private bool MayLie(int n, int rack) =>
        pinDropped[n] || nodes[nodes[n].Next].PinnedRack is var pinned && (pinned < 0 || pinned == rack);

    private int MinRestAfter(int n) => nodes[nodes[n].Next].MinLag;

    private int RackFromAll(Group group, int end)
    {
        if (shop.AmpleRack >= 0)
            return end;
        var t = end;
        while (t < Line.Never && FirstTaken(group, t) is var free && free > t)
            // Later for one is later for all: begin again from there.
            t = free;
        return t;
    }

    /// <summary>The end itself when racks take all members at once, else the earliest end for the first that finds no room.</summary>
    private int FirstTaken(Group group, int end)
    {
        var (free, count) = (end, 0);
        for (; count < group.Nodes.Length && free == end; count++)
            if (TakesRack(group.Nodes[count]))
                if ((free = RackFrom(group.Nodes[count], end)) == end)
                    rackLines[RackOf[group.Nodes[count]] = RackFor(group.Nodes[count], end)].Change(end, RestArea(group.Nodes[count]));
                else
                    break;
        for (var i = 0; i < count; i++)
            if (TakesRack(group.Nodes[i]))
                rackLines[RackOf[group.Nodes[i]]].Change(end, -RestArea(group.Nodes[i]));
        return free;
    }

    private bool TakesRack(int n) => !Failed[nodes[n].Piece] && nodes[n].RestAfter;

    private long RestArea(int n) => shop.RackArea(RackOf[n], nodes[n].Piece);

    private int RackFor(int n, int end)
    {
        if (shop.AmpleRack >= 0)
            return shop.AmpleRack;
        for (var r = 0; r < shop.Racks.Length; r++)
            if (MayLie(n, r) && FreeRack(r, end, shop.RackArea(r, nodes[n].Piece), MinRestAfter(n)) == end)
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
        var latest = rackLines[r].NeverAbove(t, room - area);
        return latest == t || latest >= Line.Never ? latest : FreeRack(r, latest, area, shortest);
    }

    /// <summary>The latest start of a node whose rest lies on a rack that goes down.</summary>
    private int RackLimit(int n)
    {
        var node = nodes[n];
        if (node.RestStep == 0 || shop.AmpleRack >= 0)
            return Line.Never;
        // What lies there already stays, whatever becomes of the rack.
        if (node.Before < 0 && shop.Running.Rest[node.Piece] is not null)
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
        if (rack >= 0)
            ChangeRack(rack, end, shop.RackArea(rack, nodes[n].Piece), nodes[n].Piece);
    }

    private void CloseRest(int n, int start)
    {
        var node = nodes[n];
        if (node.RestStep == 0 || shop.AmpleRack >= 0 || RackBefore(node) is not (>= 0 and var rack))
            return;
        // A running rest with an end was closed from the beginning.
        if (node.Before >= 0 || shop.Running.Rest[node.Piece]?.EndS is null)
            ChangeRack(rack, start, -shop.RackArea(rack, node.Piece), node.Piece);
    }

    private void ChangeRack(int rack, int from, long area, int piece)
    {
        rackLines[rack].Change(from, area);
        journal.Add(new Undo(UndoKind.Rack, rack, from, piece, area > 0 ? -1 : 1));
    }
}
