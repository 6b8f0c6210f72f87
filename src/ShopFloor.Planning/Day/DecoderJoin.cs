namespace ShopFloor.Planning.DayPlans;

/// <summary>Adding members to a load or session that is already placed: it begins and ends by their handling times earlier and later,
/// if everyone concerned can bear that. Nothing else moves.</summary>
internal sealed partial class Decoder
{
    private readonly List<PlacedBatch> joined = [];
    private readonly List<(int Place, int From, int To, int Held, bool Change, int ChangedFrom)> takenAway = [];

    /// <summary>How a batch grows: when it begins and ends then, and by how much its dwell comes later.</summary>
    private readonly record struct Growth(int Start, int End, int Later);

    /// <summary>Answers -1 when placed, the batch's start when what leads to it must come later, or never.</summary>
    private int TryJoin(int g)
    {
        var group = groups[g];
        var placed = Placed[group.Joins];
        var (oven, count) = (shop.Heated[placed.Place].Oven, group.Nodes.Length);
        var (more, unload) = (count * (oven?.LoadEachS ?? shop.Heated[placed.Place].Press!.LayUpEachS), count * (oven?.UnloadEachS ?? 0));
        // The handling comes before everything else, or pushes it back.
        ReadOnlySpan<Growth> ways = [new(placed.Start - more, placed.End + unload, 0), new(placed.Start, placed.End + more + unload, more)];
        foreach (var way in ways)
        {
            if (!MembersBear(groups[placed.Group], way.Start, way.End) || RackFromAll(group, way.End) != way.End || !MakesRoom(placed, way))
                continue;
            var (earliest, latest) = (0, Line.Never);
            foreach (var n in group.Nodes)
                (earliest, latest) = (Math.Max(earliest, Earliest(n)), Math.Min(latest, Latest(n)));
            if (earliest > way.Start)
                continue;
            if (latest < way.Start)
                return way.Start;
            Extend(group, placed, way);
            foreach (var n in group.Nodes)
                Set(n, way.Start, way.End, placed.LoadPerson, placed.Place);
            return -1;
        }
        return Line.Never;
    }

    private bool MembersBear(Group members, int start, int end)
    {
        foreach (var n in members.Nodes)
        {
            var next = nodes[n].Next;
            if (EarliestAlone(n) > start || (nodes[n].PinnedAt >= 0 && !pinDropped[n]) || next < 0)
                return false;
            if (Start[next] < end + nodes[next].MinLag)
                return false;
        }
        return true;
    }

    private bool MakesRoom(PlacedBatch placed, Growth way)
    {
        var line = heated[placed.Place];
        if (!people[placed.UnloadPerson].IsFree(placed.End, way.End) || !line.Taken.IsFree(placed.End, way.End))
            return false;
        if (way.Start == placed.Start)
            return !shop.Heated[placed.Place].IsOven
                || (
                    people[placed.LoadPerson].IsFree(placed.DwellStart, placed.DwellStart + way.Later)
                    && placed.UnloadStart - placed.DwellStart >= way.Later
                );
        if (!people[placed.LoadPerson].IsFree(way.Start, placed.Start))
            return false;
        var before = line.At(placed.Start) - 1;
        if (before < 0 || !line.IsChange(before) || line.EndAt(before) <= way.Start)
            return line.Taken.IsFree(way.Start, placed.Start);
        // The change of set point must come earlier too; with shared air that would need cold booths earlier.
        var shift = line.EndAt(before) - way.Start;
        return !Array.Exists(shop.SharedOvens, o => o.Contains(placed.Place))
            && line.StartAt(before) - shift >= 0
            && (line.EndAt(before) == placed.Start || line.Taken.IsFree(line.EndAt(before), placed.Start))
            && line.Taken.IsFree(line.StartAt(before) - shift, line.StartAt(before));
    }

    private void Extend(Group joining, PlacedBatch placed, Growth way)
    {
        var (line, h) = (heated[placed.Place], placed.Place);
        var before = line.At(placed.Start) - 1;
        var tenths = line.ToAt(before + 1);
        TakeAway(h, placed.Start);
        if (before >= 0 && line.IsChange(before) && line.EndAt(before) > way.Start)
        {
            var (from, to, held, shift) = (line.StartAt(before), line.EndAt(before), line.ToAt(before), line.EndAt(before) - way.Start);
            TakeAway(h, from);
            AddChange(h, from - shift, to - shift, held);
        }
        line.Add(way.Start, way.End, tenths, false, tenths);
        journal.Add(new Undo(UndoKind.Heat, h, way.Start, 0, 0));
        if (way.Start < placed.Start)
            Take(people, PersonLines, placed.LoadPerson, way.Start, placed.Start);
        if (way.Later > 0 && shop.Heated[h].IsOven)
            Take(people, PersonLines, placed.LoadPerson, placed.DwellStart, placed.DwellStart + way.Later);
        if (way.End > placed.End)
            Take(people, PersonLines, placed.UnloadPerson, placed.End, way.End);
        foreach (var n in groups[placed.Group].Nodes)
            MoveMember(n, way.Start, way.End);
        joined.Add(placed);
        journal.Add(new Undo(UndoKind.Join, joining.Joins, 0, 0, 0));
        Placed[joining.Joins] = placed with
        {
            Start = way.Start,
            DwellStart = placed.DwellStart + way.Later,
            UnloadStart = placed.UnloadStart + (shop.Heated[h].IsOven ? way.Later : way.End - placed.End),
            End = way.End,
            Group = AddGroup(With(groups[placed.Group], joining)),
        };
        groupState[groups.Length - 1] = Done;
    }

    /// <summary>The old members and those that join, as one group; only its members matter from here on.</summary>
    private static Group With(Group all, Group joining) =>
        new()
        {
            Family = all.Family,
            Nodes = [.. all.Nodes, .. joining.Nodes],
            Places = all.Places,
            DwellMin = all.DwellMin,
            DwellMax = all.DwellMax,
        };

    private void MoveMember(int n, int start, int end)
    {
        journal.Add(new Undo(UndoKind.Moved, n, Start[n], End[n], 0));
        if (shop.AmpleRack < 0)
        {
            if (nodes[n].RestStep > 0 && RackBefore(nodes[n]) is >= 0 and var rack)
            {
                ChangeRack(rack, start, -shop.RackArea(rack, nodes[n].Piece), nodes[n].Piece);
                ChangeRack(rack, Start[n], shop.RackArea(rack, nodes[n].Piece), nodes[n].Piece);
            }
            if (nodes[n].RestAfter && RackOf[n] is >= 0 and var after)
            {
                ChangeRack(after, End[n], -shop.RackArea(after, nodes[n].Piece), nodes[n].Piece);
                ChangeRack(after, end, shop.RackArea(after, nodes[n].Piece), nodes[n].Piece);
            }
        }
        (Start[n], End[n]) = (start, end);
    }

    private void TakeAway(int h, int from)
    {
        var (line, i) = (heated[h], heated[h].At(from));
        takenAway.Add((h, from, line.EndAt(i), line.ToAt(i), line.IsChange(i), line.FromAt(i)));
        line.Remove(from);
        journal.Add(new Undo(UndoKind.TakenAway, 0, 0, 0, 0));
    }

    private void UndoTakenAway()
    {
        var (h, from, to, held, change, changedFrom) = takenAway[^1];
        takenAway.RemoveAt(takenAway.Count - 1);
        heated[h].Add(from, to, held, change, changedFrom);
    }

    private void UndoJoin(int j)
    {
        Placed[j] = joined[^1];
        joined.RemoveAt(joined.Count - 1);
        foreach (var n in groups[Placed[j].Group].Nodes)
            groupOf[n] = Placed[j].Group;
    }

    private int EarliestAlone(int n)
    {
        var asked = release[n];
        release[n] = 0;
        var t = Earliest(n);
        release[n] = asked;
        return t;
    }
}
