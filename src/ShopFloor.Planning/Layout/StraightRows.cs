namespace ShopFloor.Planning.Layout;

/// <summary>
/// Lays the pieces of one surface again in straight rows when they fit that way too: hands copy rows faster and make fewer mistakes.
/// </summary>
internal static class StraightRows
{
    /// <summary>The same pieces on the same surface, in rows where possible, else as they are. Corners without margin.</summary>
    public static IReadOnlyList<Place> Straighten(LayoutTask task, int surface, IReadOnlyList<Place> places)
    {
        if (places.Count < 2 || task.Occupied.Any(o => o.Surface == surface))
            return places;
        IReadOnlyList<Place>? best = null;
        var fewest = int.MaxValue;
        foreach (var lie in Enum.GetValues<Lie>())
        foreach (var along in new[] { true, false })
            if (TryRows(task, surface, places, lie, along) is var (rows, count) && count < fewest)
                (best, fewest) = (rows, count);
        return best ?? places;
    }

    private enum Lie
    {
        Unturned,
        WideAlong,
        DeepAlong,
    }

    private static (List<Place> Places, int Rows)? TryRows(LayoutTask task, int surface, IReadOnlyList<Place> places, Lie lie, bool along)
    {
        var (length, across) = along
            ? (task.SurfaceWidth[surface], task.SurfaceDepth[surface])
            : (task.SurfaceDepth[surface], task.SurfaceWidth[surface]);
        var boxes = places
            .Select(p => Box(task, p, lie, along))
            .OrderByDescending(b => b.Across)
            .ThenByDescending(b => b.Along)
            .ThenBy(b => task.Rank[b.Place.Piece])
            .ToArray();
        var rows = new List<(int Used, int At)>();
        var next = 0;
        var laid = new List<Place>(places.Count);
        foreach (var box in boxes)
        {
            var row = rows.FindIndex(r => r.Used + box.Along <= length);
            if (row < 0)
            {
                if (box.Along > length || next + box.Across > across)
                    return null;
                row = rows.Count;
                rows.Add((0, next));
                next += box.Across;
            }
            var (used, at) = rows[row];
            rows[row] = (used + box.Along, at);
            laid.Add(box.Place with { X = along ? used : at, Y = along ? at : used, Turned = box.Turned });
        }
        return (laid, rows.Count);
    }

    private static (Place Place, int Along, int Across, bool Turned) Box(LayoutTask task, Place p, Lie lie, bool along)
    {
        int w = task.Width[p.Piece],
            d = task.Depth[p.Piece];
        var turned = task.Turns[p.Piece] && lie is not Lie.Unturned && (w > d) != (along == lie is Lie.WideAlong);
        var (pw, pd) = turned ? (d, w) : (w, d);
        return along ? (p, pw, pd, turned) : (p, pd, pw, turned);
    }
}
